"""Conditions: the small closed form that says when a rule applies, compiled to closures, three-valued.

There is no expression language: it would move code into data, know no units and no dates, and could not say
why. A condition answers true, false or unknown (after Kleene), with the members that decided it.
"""

from collections.abc import Callable, Mapping
from typing import Any

from compliance.rulebook.bounds import order
from compliance.rulebook.errors import RuleError
from compliance.rulebook.facts import Items, Leaf, Node, Paths, Scalar, Scope
from compliance.rulebook.reading import Params, as_yes_no, each, one_of, scalar
from compliance.rulebook.vocabulary import FactPath, Term, node_about
from shared.folded import folded
from shared.values import Value
from shared.wording import Sayable, Wording

DEEPEST = 8
LARGEST = 200
_FITTING = {"is": (0,), "is one of": (0,), "at least": (0, 1), "at most": (-1, 0)}
_OVER_FACTS = ("fact", "some", "every")
_UNNAMED = "other"
_ORDERED = ("quantity", "time", "day", "number")


class Verdict(Value, frozen=True):
    """True, false or (None) unknown. `about`: members that decided it; `lacks`: members that are missing, or
    (`why`) that are there and don't tell; `questions`: open questions without an answer."""

    truth: bool | None
    about: Paths = ()
    lacks: Paths = ()
    questions: Paths = ()
    why: Sayable | None = None


Condition = Callable[[Scope], Verdict]
Roots = Mapping[str, Term]


def always(scope: Scope) -> Verdict:
    """The condition of a rule that has none."""
    return Verdict(True)


def read_condition(params: Params, raw: object, roots: Roots | None = None) -> Condition:
    """A condition from plain data. Raises RuleError, also for one that is too deep or too large."""
    _refuse_size(raw)
    return _read(params, raw, roots or params.setting.roots)


def roots_of(raw: object) -> set[str]:
    """The roots of the fact paths in a condition that was read: what it hangs on."""
    found = set()
    for part in _parts(raw):
        found |= roots_of(part)
    if isinstance(raw, Mapping):
        found |= {raw[form].partition(".")[0] for form in _OVER_FACTS if form in raw}
    return found


def all_of(parts: tuple[Condition, ...]) -> Condition:
    """True if all parts are; false as soon as one is."""
    return _kleene(parts, decided_by=False)


def any_of(parts: tuple[Condition, ...]) -> Condition:
    """True as soon as one part is; false if none is."""
    return _kleene(parts, decided_by=True)


def negation(part: Condition) -> Condition:
    """True if the part is false, and the other way round; unknown stays unknown."""

    def judge(scope: Scope) -> Verdict:
        verdict = part(scope)
        turned = None if verdict.truth is None else not verdict.truth
        return Verdict(turned, verdict.about, verdict.lacks, verdict.questions, verdict.why)

    return judge


def over_items(path: FactPath, part: Condition, *, every: bool) -> Condition:
    """Whether every item, or some item, of a list fulfils a condition. Items that may still come make
    unknown what they could change."""

    def judge(scope: Scope) -> Verdict:
        items = path.items(scope)
        verdicts: list[Verdict] = []
        for item in items.items:
            verdict = part(scope.within(item))
            if verdict.truth is not every and verdict.truth is not None:
                return verdict
            verdicts.append(verdict)
        if items.lacks:
            verdicts.append(Verdict(None, items.about, items.lacks))
        return _undecided(verdicts, otherwise=every)

    return judge


def _kleene(parts: tuple[Condition, ...], *, decided_by: bool) -> Condition:
    def judge(scope: Scope) -> Verdict:
        verdicts = []
        for part in parts:
            verdict = part(scope)
            if verdict.truth is decided_by:
                return verdict
            verdicts.append(verdict)
        return _undecided(verdicts, otherwise=not decided_by)

    return judge


def combine(verdicts: list[Verdict], *, decided_by: bool) -> Verdict:
    """`decided_by` as soon as one is; unknown if one is; else the opposite."""
    for verdict in verdicts:
        if verdict.truth is decided_by:
            return verdict
    return _undecided(verdicts, otherwise=not decided_by)


def _undecided(verdicts: list[Verdict], *, otherwise: bool) -> Verdict:
    """Unknown if one is; else what all of them are.

    What is not stated comes first; only if nothing is, what is there and doesn't tell.
    """
    unknown = [verdict for verdict in verdicts if verdict.truth is None]
    telling = unknown or verdicts
    if len(telling) == 1:
        return telling[0]
    about = tuple([path for verdict in telling for path in verdict.about])
    if not unknown:
        return Verdict(otherwise, about)
    missing = [verdict for verdict in unknown if verdict.why is None and verdict.lacks]
    lacking = missing or [verdict for verdict in unknown if verdict.why][:1]
    return Verdict(
        None,
        about,
        tuple(path for verdict in lacking for path in verdict.lacks),
        tuple(question for verdict in unknown for question in verdict.questions),
        lacking[0].why if lacking else None,
    )


def _read(params: Params, raw: object, roots: Roots) -> Condition:
    part = params.inner(raw)
    form = part.which("all", "any", "not", "fact", "some", "every", "question")
    condition = _FORMS[form](part, form, roots)
    part.done()
    return condition


def _read_several(part: Params, form: str, roots: Roots) -> Condition:
    parts = part.value(form, each(lambda raw: _read(part, raw, roots)))
    return all_of(parts) if form == "all" else any_of(parts)


def _read_not(part: Params, form: str, roots: Roots) -> Condition:
    return negation(part.value(form, lambda raw: _read(part, raw, roots)))


def _read_items(part: Params, form: str, roots: Roots) -> Condition:
    path = part.value(form, lambda raw: part.path(raw, lists=True, roots=roots))
    if path.term.item is None:
        raise RuleError("rule/not_a_list", {"path": path.text}, (form,))
    inner = {**roots, "item": path.term.item}
    condition = part.value("has", lambda raw: _read(part, raw, inner))
    return over_items(path, condition, every=form == "every")


def _read_question(part: Params, form: str, roots: Roots) -> Condition:
    known = part.setting.questions
    question = part.value(form, str)
    if question not in known:
        blanks = {"question": question, "known": ", ".join(sorted(known)) or "-"}
        raise RuleError("rule/unknown_question", blanks, (form,))
    answers = known[question]
    wanted = part.value("is", one_of(answers))

    def judge(scope: Scope) -> Verdict:
        answer = scope.facts.answer_to(question)
        if answer not in answers:
            return Verdict(None, ("context.determinations",), (), (question,))
        return Verdict(answer == wanted, ("context.determinations",))

    return judge


def _read_fact(part: Params, form: str, roots: Roots) -> Condition:
    asked = part.which("is", "is one of", "at least", "at most", "present")
    if asked == "present":
        return _read_present(part, form, roots)
    path = part.value(form, lambda raw: part.path(raw, roots=roots))
    term = path.term
    if term.sort in ("list", "group"):
        raise RuleError("rule/is_a_list", {"path": path.text}, (form,))
    if asked in ("at least", "at most") and term.sort not in _ORDERED:
        raise RuleError("rule/not_ordered", {"path": path.text}, (form,))
    among = part.maybe("among", each(one_of(term.words))) if term.sort == "word" else None
    reader = one_of(among) if among else scalar(term)
    bounds = part.value(asked, each(reader)) if asked == "is one of" else (part.value(asked, reader),)
    fits, look = _fitting(asked, term, bounds), path.look

    def judge(scope: Scope) -> Verdict:
        node = look(scope)
        leaf = node if isinstance(node, Leaf) else path.leaf(scope)
        if leaf.value is None:
            return Verdict(None, leaf.about, leaf.lacks, why=leaf.why)
        if among and leaf.value not in among:
            return Verdict(None, leaf.about, leaf.about, why=foreign_word(term, str(leaf.value)))
        return Verdict(fits(leaf.value), leaf.about)

    return judge


def foreign_word(term: Term, word: str) -> Wording:
    """Why a word does not tell, where a law knows only some of a closed list."""
    said = term.words[word]
    if word == _UNNAMED:
        return Wording(
            f"“{said.en}” does not say what it is, and that decides it",
            f"«{said.es}» no dice qué es, y de eso depende",
        )
    return Wording(
        f"“{said.en}” is a word of another law and does not say what it is here",
        f"«{said.es}» es una palabra de otra ley y no dice qué es aquí",
    )


def _fitting(asked: str, term: Term, bounds: tuple[Scalar, ...]) -> Callable[[Any], bool]:
    """Whether a value is what is asked; the reader gave it and the bounds one type."""
    if asked in ("is", "is one of") and term.sort == "text":
        wanted = {folded(str(bound)) for bound in bounds}
        return lambda value: folded(value) in wanted
    if asked in ("is", "is one of") and term.sort != "quantity":
        return bounds.__contains__
    fitting = _FITTING[asked]
    compare: Callable[[Any, Any], int] = order if term.sort == "quantity" else _order
    if len(bounds) > 1:
        return lambda value: any(compare(value, bound) in fitting for bound in bounds)
    bound: Any = bounds[0]
    return lambda value: compare(value, bound) in fitting


def _read_present(part: Params, form: str, roots: Roots) -> Condition:
    path = part.value(form, lambda raw: part.path(raw, lists=True, roots=roots))
    wanted = part.value("present", as_yes_no)

    def judge(scope: Scope) -> Verdict:
        node = path.look(scope)
        return Verdict(is_present(node) is wanted, node_about(node))

    return judge


def is_present(node: Node) -> bool:
    """Whether something is there, though it may not tell: false for what is left out and for an empty list or
    object."""
    if isinstance(node, Leaf):
        return node.value is not None or node.stated
    return bool(node.items if isinstance(node, Items) else node.members)


def _order(value: Any, bound: Any) -> int:
    return int(value > bound) - int(value < bound)


_FORMS = {
    "all": _read_several,
    "any": _read_several,
    "not": _read_not,
    "some": _read_items,
    "every": _read_items,
    "question": _read_question,
    "fact": _read_fact,
}


def _refuse_size(raw: object) -> None:
    size, layer = 0, [raw]
    for _ in range(2 * DEEPEST):
        layer = [part for value in layer for part in _parts(value)]
        size += len(layer)
        if size > LARGEST:
            raise RuleError("rule/too_large", {})
        if not layer:
            return
    raise RuleError("rule/too_deep", {})


def _parts(value: object) -> list[object]:
    if isinstance(value, Mapping):
        return list(value.values())
    return list(value) if isinstance(value, list) else []
