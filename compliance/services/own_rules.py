"""Write the firm's own rules: each change is a new version; taking one into use is an act of its own."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from django.db import transaction

from compliance.models import OwnRules, OwnRulesInUse
from compliance.own_rules import OwnRule, Trial, try_rule
from compliance.rulebook.pack import Pack
from compliance.selectors import labels_of, packs_for, today_of
from records.models import AuditEntry, Firm, User
from records.services.audit import change, note


class RuleFaultError(ValueError):
    """The rule of this title can't be one, or loosens a law or label: the trial says why."""

    def __init__(self, title: str, trial: Trial) -> None:
        super().__init__(trial.fault)
        self.title, self.trial = title, trial


class ExamplesFailError(ValueError):
    """Rules whose examples don't come out as the firm expects can't be taken into use."""

    def __init__(self, titles: list[str]) -> None:
        super().__init__(", ".join(titles))
        self.titles = titles


def newest(firm: Firm) -> OwnRules | None:
    """The newest version of the firm's rules."""
    return OwnRules.objects.for_firm(firm).select_related("firm", "by").first()


def in_use(firm: Firm, moment: datetime | None = None) -> OwnRulesInUse | None:
    """Which version is in use (or was at a moment), by whom it was taken into use, and when."""
    rows = OwnRulesInUse.objects.for_firm(firm).select_related("version__firm", "by")
    return (rows.filter(since__lte=moment) if moment else rows).first()


def pack_in_use(firm: Firm, moment: datetime | None = None) -> Pack | None:
    """The firm's pack in use (or that of a moment); None if there is none."""
    used = in_use(firm, moment)
    return used.version.pack if used else None


def try_own(firm: Firm, rule: OwnRule, language: str) -> Trial:
    """Try a rule against the laws of the firm's places and the labels of its products, and run its examples.

    A rule for some products only is not set against the labels: which it bounds is known of a treatment alone,
    and there the strictest holds.
    """
    day = today_of(firm)
    labels = () if rule.is_of_some_products else labels_of(firm, day)
    return try_rule(rule, [*packs_for(firm, day).in_force, *labels], firm.name, day, language)


@transaction.atomic
def save_rule(firm: Firm, rule: OwnRule, by: User, why: str, language: str = "en") -> OwnRules:
    """A new version with this rule (under a new key if it has none). Raises RuleFaultError."""
    rules = _locked(firm)
    kind = OwnRules.Change.CHANGED if rule.key else OwnRules.Change.ADDED
    rule = rule if rule.key else replace(rule, key=str(_last_key(firm) + 1))
    trial = try_own(firm, rule, language)
    if trial.fault:
        raise RuleFaultError(rule.title, trial)
    kept = [rule if one.key == rule.key else one for one in rules]
    if kind == OwnRules.Change.ADDED:
        kept.append(rule)
    return _new_version(firm, kept, kind, rule.title, by, why)


@transaction.atomic
def remove_rule(firm: Firm, key: str, by: User, why: str) -> OwnRules:
    """A new version without the rule of this key."""
    rules = _locked(firm)
    title = next(rule.title for rule in rules if rule.key == key)
    kept = [rule for rule in rules if rule.key != key]
    return _new_version(firm, kept, OwnRules.Change.REMOVED, title, by, why)


@transaction.atomic
def take_into_use(version: OwnRules, by: User, language: str = "en") -> OwnRulesInUse:
    """Use this version for every check from now on. Raises ExamplesFailError, RuleFaultError."""
    trials = [(rule, try_own(version.firm, rule, language)) for rule in version.own]
    for rule, trial in trials:
        if trial.fault:
            raise RuleFaultError(rule.title, trial)
    failing = [rule.title for rule, trial in trials if not trial.passed]
    if failing:
        raise ExamplesFailError(failing)
    taken = OwnRulesInUse.objects.create(firm=version.firm, version=version, by=by)
    note(AuditEntry.Kind.CREATED, taken, firm=version.firm, by=by)
    return taken


def _locked(firm: Firm) -> list[OwnRule]:
    """The rules of the newest version, which nobody else changes meanwhile."""
    Firm.objects.for_firm(firm).select_for_update().get()
    latest = newest(firm)
    return latest.own if latest else []


def _last_key(firm: Firm) -> int:
    """The highest number that a rule of the firm ever had."""
    versions: Iterable[OwnRules] = OwnRules.objects.for_firm(firm)
    return max((int(rule["key"]) for version in versions for rule in version.rules), default=0)


def _new_version(
    firm: Firm, rules: list[OwnRule], kind: str, title: str, by: User | None, why: str
) -> OwnRules:
    latest = newest(firm)
    version = OwnRules.objects.create(
        firm=firm,
        version=latest.version + 1 if latest else 1,
        rules=[rule.as_json() for rule in rules],
        change=kind,
        rule=title,
        by=by,
        why=why,
    )
    changes = [change("rules", latest.rules if latest else None, version.rules)]
    note(AuditEntry.Kind.CREATED, version, firm=firm, by=by, changes=changes, reason=why)
    return version
