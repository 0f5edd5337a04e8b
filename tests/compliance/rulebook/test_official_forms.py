"""What a pack may say of the form on which an authority wants copies."""

from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from compliance.rulebook.official_forms import OfficialForm
from tests.compliance.rulebook.builders import TEXT, WIND, pack, rule

FORM = {
    "form": "record",
    "cite": "Act 3",
    "title": TEXT,
    "head": TEXT,
    "numbered": [{"no": "1", "says": TEXT, "asks": [{"is": "day", "says": TEXT}]}],
}
VARIANTS = [
    {"says": {"en": name, "es": name}, "applications": applications, "applicators": applicators}
    for name, applications, applicators in (("a", "one", "one"), ("b", "many", "one"), ("c", "many", "many"))
]


def read(**given: Any) -> OfficialForm:
    return pack(rule(**WIND), forms=[FORM | given]).forms[0]


def test_a_form_has_its_elements_in_the_order_of_its_numbers() -> None:
    form = read(
        numbered=[*FORM["numbered"], {"no": "2", "says": TEXT, "asks": [{"is": "plate", "says": TEXT}]}]
    )
    assert [(one.number, one.asks[0].element) for one in form.numbered] == [("1", "day"), ("2", "plate")]


@pytest.mark.parametrize(
    ("applications", "applicators", "chosen"), [(1, 1, "a"), (4, 1, "b"), (4, 3, "c"), (1, 2, "c")]
)
def test_the_first_variant_that_is_made_for_so_many_is_chosen(
    applications: int, applicators: int, chosen: str
) -> None:
    found = read(variants=VARIANTS).variant(applications, applicators)
    assert found is not None
    assert found.says.en == chosen


def test_a_form_for_one_is_none_for_several() -> None:
    assert read(variants=VARIANTS[:1]).variant(2, 1) is None


@pytest.mark.parametrize(
    ("given", "wording"),
    [
        ({"numbered": []}, "rule/expected_list"),
        (
            {"numbered": [{"no": "1", "says": TEXT, "asks": [{"is": "moon", "says": TEXT}]}]},
            "rule/unknown_word",
        ),
        ({"variants": [{"says": TEXT, "applications": "two", "applicators": "one"}]}, "rule/unknown_word"),
        ({"printed": "yes"}, "rule/unknown_key"),
        ({"title": "Record"}, "rule/expected_mapping"),
    ],
)
def test_anything_else_is_refused(given: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        read(**given)
    assert caught.value.wording_id == wording
