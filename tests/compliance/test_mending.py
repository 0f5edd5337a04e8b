"""What a finding asks a person to do about what the record lacks."""

import pytest

from compliance.facts_reader.mending import what_to_do
from compliance.pack_examples import registered_examples


@pytest.mark.parametrize(
    ("path", "says"),
    [
        ("people[0].tasks", "Say what each person did."),
        ("surfaces[3].treated_area", "Measure the treated area and enter it with its unit."),
        ("weather.readings[0].temperature", "Take a reading while the work goes on and enter it; if nobody "
         "did, say so in the notes."),
        ("customer.address.city", "Enter it with the customer's data."),
        ("people[0].licences", "Enter the licence as it is printed, or that there is none."),
        ("people[0].licences[0].number", "Enter the licence as it is printed."),
        ("equipment[0].tip", "Enter it."),
        ("timing.pauses[0].finished_at", "Enter when the pause ended."),
        ("mixes[0].left_over.surface", "Say on which surface what was left over was sprayed."),
        ("context.earlier[0].record.result", "Say on that record whether it was treated."),
    ],
)  # fmt: skip
def test_the_nearest_owner_that_has_a_sentence_says_what_to_do(path, says):
    assert what_to_do(path).en == says
    assert what_to_do(path).es not in ("", says)


def test_whatever_a_record_lacks_the_finding_says_what_to_do_in_both_languages():
    lacking = [
        finding
        for example in registered_examples()["us-wa"]
        for finding in example.check().findings
        if finding.judgement.absence and finding.judgement.wording in ("missing", "record/not_met")
    ]
    assert len(lacking) > 20
    for language in ("en", "es"):
        assert {said for one in lacking if ". " not in (said := one.message.say(language))} == set()
