"""Which protection steps stand in front: those that the site and the labels call for."""

from records.document.words import WORD_LISTS
from records.forms.called_for import _FOR_FEATURE, steps_called_for


def document(*kinds: str, label: list[str] | None = None) -> dict:
    product = {"label": {"protection": label or []}}
    return {"site": {"features": [{"kind": kind} for kind in kinds]}, "mixes": [{"products": [product]}]}


def test_a_drain_calls_for_a_cover_and_people_are_always_told():
    assert steps_called_for(document("storm-drain")) == {"storm-drains-covered", "people-told-on-arrival"}


def test_what_the_label_asks_for_is_called_for():
    assert "windows-closed" in steps_called_for(document(label=["windows-closed"]))


def test_a_document_without_site_and_mix_calls_for_telling_people_only():
    assert steps_called_for({}) == {"people-told-on-arrival"}


def test_the_table_names_features_and_steps_that_there_are():
    assert set(_FOR_FEATURE) <= set(WORD_LISTS["feature_kind"])
    assert {step for steps in _FOR_FEATURE.values() for step in steps} <= set(WORD_LISTS["step"])
