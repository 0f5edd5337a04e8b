"""A limit that is advice or rests on memory is marked wherever it is shown, and never shown as law."""

from typing import Any

from compliance.check import Check
from compliance.check_text import check_text
from compliance.limit_words import is_sure, set_by
from compliance.pages.remarks import limit_of
from tests.compliance.rulebook.builders import WIND, check, pack, rule

STRICT = {**WIND, "max": "5 mph"}
DOUBT = {"en": "Not read.", "es": "No leído."}
ADVISED = rule(**STRICT, level="advised", text="memory", doubt=DOUBT, cite="Leaflet")


def wind_limit(found: Check) -> dict[str, Any]:
    """The strictest limit on the wind as the command prints it, before one that it stands in front of."""
    return next(one for one in found.to_json("en")["limits"] if one["quantity"] == "wind_speed")


def test_advice_from_memory_is_marked_in_every_language() -> None:
    found = check(ADVISED)
    limit = wind_limit(found)
    assert (limit["level"], limit["text"]) == ("advised", "memory")
    assert set_by(limit, "en") == "Leaflet (advised; from memory, to be confirmed)"
    assert set_by(limit, "es") == "Leaflet (recomendado; de memoria, por confirmar)"
    assert not is_sure(limit)
    assert "[Leaflet (advised; from memory, to be confirmed)]" in check_text(found, "en")
    assert limit_of(limit, "en").set_by == set_by(limit, "en")


def test_what_is_required_by_a_text_that_was_read_bears_no_mark() -> None:
    limit = wind_limit(check(rule(**STRICT)))
    assert set_by(limit, "en") == "Example Act 1(a)"
    assert is_sure(limit)


def test_at_a_tie_what_is_required_is_named_before_advice_and_what_was_read_before_memory() -> None:
    sure = rule(**{**STRICT, "id": "xx/sure"}, cite="Act 2")
    doubtful = rule(**{**STRICT, "id": "xx/doubtful"}, doubt=DOUBT, cite="Act 3")
    for rules in ((ADVISED, doubtful, sure), (sure, doubtful, ADVISED), (doubtful, sure, ADVISED)):
        policy = pack(rule(**{**STRICT, "id": "xx/firm"}, level="advised"), layer="firm")
        assert wind_limit(check(*rules, policy=policy))["set_by"]["rule"] == "xx/sure"
