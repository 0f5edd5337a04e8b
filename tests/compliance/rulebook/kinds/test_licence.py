"""Kind licence: who may apply or supervise, on that day, in that place."""

from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from tests.compliance.rulebook.builders import findings, outcome, pack, rule

PERSON = {"kind": "licence", "judges": "people", "holder": "person", "authorities": ["us-wa"]}
LICENCE = "people[0].licences[0]"
HELPER = {"name": "T. Abara", "role": "helper", "licences": [], "supervised_by": "R. Osei"}


def person(**keys: Any) -> dict[str, Any]:
    return rule(**{**PERSON, **keys})


@pytest.mark.parametrize(
    ("changes", "expected", "about"),
    [
        ({}, "met", f"{LICENCE}.valid_to"),
        ({f"{LICENCE}.valid_to": "2026-09-14"}, "met", f"{LICENCE}.valid_to"),
        ({f"{LICENCE}.valid_to": "2026-09-13"}, "not_met", f"{LICENCE}.valid_to"),
        ({f"{LICENCE}.valid_from": "2026-09-14"}, "met", f"{LICENCE}.valid_to"),
        ({f"{LICENCE}.valid_from": "2026-09-15"}, "not_met", f"{LICENCE}.valid_from"),
        ({f"{LICENCE}.valid_to": None}, "cant_tell", f"{LICENCE}.valid_to"),
        ({f"{LICENCE}.valid_from": None}, "cant_tell", f"{LICENCE}.valid_from"),
        ({f"{LICENCE}.authority": None}, "cant_tell", f"{LICENCE}.authority"),
        ({f"{LICENCE}.authority": "us-or"}, "not_met", f"{LICENCE}.authority"),
        ({"people[0].licences": None}, "cant_tell", "people[0].licences"),
        ({"people[0].licences": []}, "not_met", "people[0].licences"),
        ({"timing": {"recorded_at": "2026-09-14T10:05:00-07:00"}}, "cant_tell", "timing.started_at"),
    ],
)
def test_a_licence_is_good_on_both_days_that_are_printed_on_it(
    changes: dict[str, Any], expected: str, about: str
) -> None:
    (found,) = findings(person(), changes=changes)
    assert (found.outcome, found.about) == (expected, (about,))


def test_a_lapsed_licence_is_said_with_its_days() -> None:
    (found,) = findings(person(), changes={f"{LICENCE}.valid_to": "2026-03-31"})
    assert found.message.say("en") == (
        "R. Osei: No licence of the sort asked for (us-wa) is valid on 2026-09-14; on the record: CO-00231 "
        "(us-wa), 2026-01-01 to 2026-03-31."
    )
    assert found.observed == "CO-00231 (us-wa), 2026-01-01 to 2026-03-31"


def test_one_good_licence_among_several_is_enough() -> None:
    lapsed = {"authority": "us-wa", "number": "OLD", "valid_from": "2020-01-01", "valid_to": "2020-12-31"}
    assert outcome(person(), changes={"people[0].licences[1]": lapsed}) == "met"
    unknown = {"authority": "us-wa", "number": "NEW", "valid_from": "2026-01-01"}
    changes = {f"{LICENCE}.valid_to": "2026-03-31", "people[0].licences[1]": unknown}
    assert outcome(person(), changes=changes) == "cant_tell"


@pytest.mark.parametrize(
    ("keys", "changes", "expected"),
    [
        ({"kinds": ["commercial operator"]}, {}, "met"),
        ({"kinds": ["private"]}, {}, "not_met"),
        ({"kinds": ["private"]}, {f"{LICENCE}.kind": None}, "cant_tell"),
        ({"categories": ["ornamental-turf"]}, {}, "met"),
        ({"categories": ["structural"]}, {}, "not_met"),
        ({"categories": ["structural"]}, {f"{LICENCE}.categories": None}, "cant_tell"),
        ({"categories": ["structural"]}, {f"{LICENCE}.categories": []}, "not_met"),
        ({"authorities": None}, {f"{LICENCE}.authority": "us-or"}, "met"),
    ],
)
def test_kind_category_and_authority_narrow_it(
    keys: dict[str, Any], changes: dict[str, Any], expected: str
) -> None:
    assert outcome(person(**keys), changes=changes) == expected


def helper_says(supervised: list[str] | None = None, **changes: Any) -> Any:
    helper = {key: value for key, value in {**HELPER, **changes}.items() if value is not None}
    return findings(person(supervised=supervised), changes={"people[1]": helper})[0]


def test_a_helper_in_sight_of_a_licensed_person_is_covered() -> None:
    found = [
        str(one.outcome)
        for one in findings(
            person(supervised=["in-sight"]), changes={"people[1]": {**HELPER, "supervision": "in-sight"}}
        )
    ]
    assert found == ["met", "met"]


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"supervision": "by-phone"}, "not_met"),
        ({"supervision": None}, "cant_tell"),
        ({"supervision": "in-sight", "supervised_by": None}, "not_met"),
    ],
)
def test_supervision_must_be_of_the_kind_asked_for(changes: dict[str, Any], expected: str) -> None:
    assert helper_says(["in-sight"], **changes).outcome == expected


def test_supervision_does_not_help_where_the_rule_does_not_allow_it() -> None:
    assert helper_says(None, supervision="in-sight").outcome == "not_met"


def test_a_supervisor_without_a_good_licence_covers_nobody() -> None:
    changes = {
        f"{LICENCE}.valid_to": "2026-03-31",
        "people[1]": {**HELPER, "supervision": "in-sight"},
    }
    outcomes = [str(one.outcome) for one in findings(person(supervised=["in-sight"]), changes=changes)]
    assert outcomes == ["not_met", "not_met"]
    changes[f"{LICENCE}.valid_to"] = None
    outcomes = [str(one.outcome) for one in findings(person(supervised=["in-sight"]), changes=changes)]
    assert outcomes == ["cant_tell", "cant_tell"]


def test_the_firms_licence_is_judged_on_the_document() -> None:
    firm = rule(kind="licence", holder="firm", authorities=["us-wa"])
    assert outcome(firm) == "met"
    assert outcome(firm, changes={"firm.licences[0].valid_to": "2026-09-13"}) == "not_met"
    assert outcome(firm, changes={"firm": None}) == "cant_tell"


def test_a_supervisor_is_found_by_id_or_name_wherever_he_stands() -> None:
    osei = "11111111-1111-4111-8111-111111111111"
    third = {**HELPER, "name": "M. Lind", "supervised_by": "T. Abara", "supervision": "in-sight"}
    second = {**HELPER, "supervised_by": osei, "supervision": "in-sight"}
    changes = {"people[0].id": osei, "people[1]": second, "people[2]": third}
    outcomes = {
        one.message.say("en").split(":")[0]: str(one.outcome)
        for one in findings(person(supervised=["in-sight"]), changes=changes)
    }
    assert outcomes == {"M. Lind": "not_met", "R. Osei": "met", "T. Abara": "met"}


def test_supervision_means_nothing_for_a_firm() -> None:
    firm = rule(kind="licence", holder="firm", supervised=["in-sight"])
    assert outcome(firm, changes={"firm.licences": []}) == "not_met"
    assert outcome(firm, changes={"firm": None}) == "cant_tell"


@pytest.mark.parametrize("holder", ["person", "firm"])
def test_the_holder_must_be_what_the_rule_judges(holder: str) -> None:
    judges = "document" if holder == "person" else "people"
    with pytest.raises(RuleError) as caught:
        pack(person(holder=holder, judges=judges))
    assert caught.value.wording_id == "rule/wrong_subject"


def test_a_licence_of_another_kind_is_named_with_what_was_asked_for() -> None:
    (found,) = findings(person(kinds=["commercial applicator"]))
    assert found.message.say("en") == (
        "R. Osei: No licence of the sort asked for (us-wa, commercial applicator) is valid on 2026-09-14; on "
        "the record: CO-00231 (us-wa), 2026-01-01 to 2026-12-31. It is of another kind: commercial operator."
    )
    (found,) = findings(person(authorities=["us-or"]))
    assert found.message.say("es").endswith("Es de otra autoridad: us-wa.")


def test_supervision_that_does_not_count_says_so() -> None:
    helper = {"people[1]": {**HELPER, "supervision": "on-site", "tasks": ["sprayed"]}}
    found = findings(person(supervised=["in-sight"]), changes=helper)
    (said,) = [one.message.say("en") for one in found if one.outcome == "not_met"]
    assert said.endswith("on the record: none. The supervision was on site; only this counts: in sight.")


def test_a_supervisor_without_a_licence_that_serves_is_named() -> None:
    helper = {**HELPER, "supervision": "in-sight", "tasks": ["sprayed"]}
    changes = {"people[1]": helper, f"{LICENCE}.valid_to": "2026-03-31"}
    found = findings(person(supervised=["in-sight"]), changes=changes)
    (said,) = [one.message.say("en") for one in found if one.about[0].startswith("people[1]")]
    assert "The supervisor's does not serve either (R. Osei): CO-00231 (us-wa), 2026-01-01 to" in said


OVERNIGHT = {
    "timing": {"started_at": "2026-09-14T23:10:00-07:00", "finished_at": "2026-09-15T00:30:00-07:00"},
}
NEXT = {"authority": "us-wa", "number": "CO-1", "valid_from": "2026-09-15", "valid_to": "2027-09-14"}


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, "met"),
        ({f"{LICENCE}.valid_to": "2026-09-14"}, "cant_tell"),
        ({f"{LICENCE}.valid_to": "2026-09-14", "people[0].licences[1]": NEXT}, "met"),
        ({f"{LICENCE}.valid_from": "2026-09-15"}, "cant_tell"),
        ({f"{LICENCE}.valid_to": "2026-09-13"}, "not_met"),
        ({f"{LICENCE}.valid_to": None}, "cant_tell"),
    ],
)
def test_work_over_midnight_wants_a_licence_on_both_days(changes: dict[str, Any], expected: str) -> None:
    (found,) = findings(person(), changes={**OVERNIGHT, **changes})
    assert found.outcome == expected


def test_of_a_licence_for_one_of_two_days_both_are_told() -> None:
    (found,) = findings(person(), changes={**OVERNIGHT, f"{LICENCE}.valid_to": "2026-09-14"})
    assert "from 2026-09-14 to 2026-09-15" in found.message.say("en")
    assert found.about == (f"{LICENCE}.valid_to", "timing.finished_at")


def test_without_the_end_a_licence_that_ends_with_the_first_day_cant_be_told_once_the_work_is_done() -> None:
    ends = {f"{LICENCE}.valid_to": "2026-09-14", "timing.finished_at": None}
    (found,) = findings(person(), changes=ends)
    assert (found.outcome, found.about) == ("cant_tell", ("timing.finished_at",))
    planned = {**ends, "timing": {"planned_at": "2026-09-14T09:00:00-07:00"}, "record.result": None}
    del planned["timing.finished_at"]
    (found,) = findings(person(), changes=planned)
    assert found.outcome == "met"


APPRENTICES = {"kinds": ["trainee"], "categories": ["CA"], "supervised": ["in-sight", "by-phone"]}


@pytest.mark.parametrize(
    ("changes", "expected", "about"),
    [
        ({}, "met", f"{LICENCE}.valid_to"),
        ({f"{LICENCE}.kind": "Trainee"}, "cant_tell", "people[0].supervised_by"),
        ({f"{LICENCE}.categories": ["CA"]}, "cant_tell", "people[0].supervised_by"),
        ({f"{LICENCE}.kind": None}, "cant_tell", f"{LICENCE}.kind"),
        ({f"{LICENCE}.categories": None}, "cant_tell", f"{LICENCE}.categories"),
        ({f"{LICENCE}.kind": None, f"{LICENCE}.valid_to": "2026-03-31"}, "not_met", f"{LICENCE}.valid_to"),
    ],
)
def test_an_apprentices_licence_is_none_of_its_own(
    changes: dict[str, Any], expected: str, about: str
) -> None:
    (found,) = findings(person(apprentices=APPRENTICES), changes=changes)
    assert (found.outcome, found.about[0]) == (expected, about)


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"supervision": "by-phone"}, "met"),
        ({"supervision": "on-site"}, "not_met"),
        ({"supervision": None}, "cant_tell"),
        ({"supervision": "by-phone", "supervised_by": None}, "cant_tell"),
        ({"supervision": "by-phone", "licences": []}, "not_met"),
        ({"supervision": "on-site", "licences": []}, "met"),
    ],
)
def test_an_apprentice_is_led_in_other_ways_than_one_without_a_licence(
    changes: dict[str, Any], expected: str
) -> None:
    trainee = {"authority": "us-wa", "kind": "trainee", "categories": [], "valid_from": "2026-01-01"}
    helper = {**HELPER, "licences": [{**trainee, "valid_to": "2026-12-31"}], **changes}
    stated = {key: value for key, value in helper.items() if value is not None}
    rules = person(supervised=["on-site"], apprentices=APPRENTICES)
    assert findings(rules, changes={"people[1]": stated})[0].outcome == expected


def test_apprentices_are_told_by_a_kind_or_a_category() -> None:
    with pytest.raises(RuleError) as caught:
        pack(person(apprentices={"supervised": ["in-sight"]}))
    assert caught.value.wording_id == "rule/some_of_keys"


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, "met"),
        ({f"{LICENCE}.kind": "trainee"}, "not_met"),
        ({f"{LICENCE}.kind": "moss technician"}, "cant_tell"),
        ({f"{LICENCE}.kind": "moss technician", f"{LICENCE}.valid_to": "2026-03-31"}, "not_met"),
        ({f"{LICENCE}.authority": "us-or"}, "cant_tell"),
        ({f"{LICENCE}.authority": "us-or", f"{LICENCE}.kind": "trainee"}, "not_met"),
        ({f"{LICENCE}.kind": "pilot"}, "met"),
        ({f"{LICENCE}.kind": "pilot", f"{LICENCE}.categories": []}, "cant_tell"),
    ],
)
def test_what_counts_as_a_licence_may_be_left_open(changes: dict[str, Any], expected: str) -> None:
    asked = person(
        authorities=None,
        kinds=["commercial operator"],
        not_kinds=["trainee"],
        also=[{"authorities": ["us-wa"], "kinds": ["pilot"], "categories": ["ornamental-turf"]}],
        leaves_open="yes",
    )
    (found,) = findings(asked, changes=changes)
    assert found.outcome == expected


def test_a_licence_that_leaves_it_open_is_named_with_why() -> None:
    asked = person(kinds=["private"], not_kinds=["trainee"], leaves_open="yes")
    (found,) = findings(asked)
    assert found.message.say("en") == (
        "R. Osei: Can't tell whether this licence serves on 2026-09-14: CO-00231 (us-wa), 2026-01-01 to "
        "2026-12-31. Its kind does not say whether it is one of those asked for: commercial operator."
    )


@pytest.mark.parametrize(
    ("tasks", "licences", "expected"),
    [(["sprayed"], [], "not_met"), (["hose"], [], "not_applicable"), (None, [], "cant_tell")],
)
def test_a_rule_refuses_only_whom_it_is_known_to_bind(tasks: Any, licences: Any, expected: str) -> None:
    asked = person(only={"some": "person.tasks", "has": {"fact": "item", "is": "sprayed"}})
    changes = {"people[0].tasks": tasks, "people[0].licences": licences}
    (found,) = findings(asked, changes=changes)
    assert found.outcome == expected
    (found,) = findings(asked, changes={"people[0].tasks": None})
    assert found.outcome == "met"


def test_of_many_kinds_that_would_do_the_first_are_named() -> None:
    (found,) = findings(person(kinds=[f"kind {number}" for number in range(1, 12)]))
    assert "(us-wa, kind 1 / kind 2 / kind 3" in found.message.say("en")
    assert "/ kind 9 / …)" in found.message.say("en")


def test_a_lapsed_full_licence_is_not_blamed_for_being_no_apprentices() -> None:
    (found,) = findings(person(apprentices=APPRENTICES), changes={f"{LICENCE}.valid_to": "2026-03-31"})
    assert found.about == (f"{LICENCE}.valid_to",)
    assert found.message.say("en").endswith("on the record: CO-00231 (us-wa), 2026-01-01 to 2026-03-31.")
