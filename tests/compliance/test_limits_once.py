"""What binds the whole treatment stands once among the limits in force, by the rule that is the strictest."""

from typing import Any

import pytest

from compliance.facts_reader.judged import MEASURES
from compliance.limit_words import quantity_words
from compliance.limits_once import limits_once


def limit(
    quantity: str, cite: str, *, least: str = "", most: str = "", level: str = "required"
) -> dict[str, Any]:
    ends = {"min": least, "max": most}
    sizes = {
        side: dict(zip(("value", "unit"), text.split(), strict=True)) if text else None
        for side, text in ends.items()
    }
    return {"quantity": quantity, "set_by": {"cite": cite}, "level": level, "text": "found", **sizes}


def setters(*limits: dict[str, Any]) -> list[str]:
    return [one["set_by"]["cite"] for one in limits_once(limits)]


def test_of_four_labels_the_strictest_stands_for_all() -> None:
    winds = [limit("wind_speed", f"label {mph}", most=f"{mph} mph") for mph in (15, 10, 12, 10)]
    assert setters(*winds) == ["label 10"]
    hours = [limit("reentry", "label A", least="90 min"), limit("reentry", "label B", least="2 hour")]
    assert setters(*hours) == ["label B"]


def test_what_each_product_has_of_its_own_stays() -> None:
    rates = [limit("product_rate", f"label {name}", most="1 gal/acre") for name in "AB"]
    assert setters(*rates) == ["label A", "label B"]


def test_the_least_and_the_most_are_not_set_against_each_other() -> None:
    heat = [limit("temperature", "label A", least="40 degF"), limit("temperature", "label B", most="85 degF")]
    assert setters(*heat) == ["label A", "label B"]


def test_advice_stands_for_no_duty_though_it_is_stricter() -> None:
    law, advice = (
        limit("wind_speed", "Act 1(a)", most="10 mph"),
        limit("wind_speed", "Leaflet", most="5 mph", level="advised"),
    )
    assert setters(law, advice) == ["Act 1(a)", "Leaflet"]
    assert setters(law, {**advice, "max": law["max"]}) == ["Act 1(a)"]


@pytest.mark.parametrize("measure", [one.name for one in MEASURES])
def test_every_quantity_that_a_rule_limits_has_words_in_both_languages(measure: str) -> None:
    words = quantity_words(measure)
    assert "_" not in words.en + words.es
    assert words.es not in (measure, "")
