"""What to do now: for every kind of incident, few and short words, people before things, the label before us.

Grade 8 by Flesch and Kincaid as for notices; few steps, for nobody reads ten in a hurry
(common practice, no source).
"""

import pytest

from records.document.words import WORD_LISTS
from records.incidents.first_steps import ALWAYS, FIRST_STEPS, LABEL_FIRST
from tests.compliance.papers.reading_ease import MOST_WORDS, grade, sentences

MOST_STEPS = 6


def test_every_kind_of_incident_has_its_steps():
    assert FIRST_STEPS.keys() == WORD_LISTS["incident_kind"].keys()


@pytest.mark.parametrize("kind", FIRST_STEPS)
def test_they_are_few_and_easy_to_read(kind):
    steps = [*FIRST_STEPS[kind], LABEL_FIRST]
    assert len(steps) <= MOST_STEPS + 1
    assert grade(" ".join(step.en for step in steps)) <= 8
    assert max(len(words) for step in steps for words in sentences(step.en)) <= MOST_WORDS


def test_before_all_else_the_source_stops_and_people_come_before_things():
    said = [step.en for step in ALWAYS]
    assert said[0] == "Stop the pump."
    assert "hurt" in said[1]
    assert grade(" ".join(said)) <= 8


def test_for_somebody_exposed_the_ambulance_comes_first_and_nobody_is_made_to_vomit_unasked():
    steps = [step.en for step in FIRST_STEPS["exposure"]]
    assert "ambulance" in steps[0]
    assert any("15 to 20 minutes" in step and "eye" in step for step in steps)  # first-aid statements of labels
    assert any("Make nobody vomit unless" in step for step in steps)


def test_a_spill_is_not_hosed_away_and_a_complaint_admits_nothing():
    assert any("Do not hose" in step.en for step in FIRST_STEPS["spill"])
    assert any("admit nothing" in step.en for step in FIRST_STEPS["complaint"])
