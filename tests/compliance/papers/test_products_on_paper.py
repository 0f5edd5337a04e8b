"""Products on the sheet: exempt ones, undiluted ones, the units of the label, the words of the place."""

from typing import Any

import pytest

from tests.compliance.papers.samples import ordinary
from tests.compliance.papers.test_record_sheet_content import column, fact, sheet


def with_product(**changes: Any) -> dict[str, Any]:
    document = ordinary()
    document["mixes"][0]["products"][0] |= changes
    return document


def test_an_exempt_product_has_no_registration_and_none_is_missing() -> None:
    """40 CFR 152.25(f): minimum risk pesticides are exempt from registration."""
    assert column(sheet(with_product(regime="exempt", registration_number=None)), "EPA reg. no.") == [
        "none (exempt)"
    ]
    assert column(sheet(with_product(registration_number=None)), "EPA reg. no.") == ["not recorded"]


@pytest.mark.parametrize(
    ("jurisdictions", "regime", "title"),
    [
        (["us", "us-wa"], "pesticide", "EPA reg. no."),
        (["de"], "plant-protection", "Registration no."),
        (["de"], "pesticide", "Registration no."),
        (["us"], "biocide", "Registration no."),
        ([], "pesticide", "Registration no."),
    ],
)
def test_the_agency_is_named_only_where_it_registers(jurisdictions: list[str], regime: str, title: str) -> None:
    document = with_product(regime=regime)
    document["site"]["jurisdictions"] = jurisdictions
    assert column(sheet(document), title) == ["99999-12"]


@pytest.mark.parametrize("form", ["ready-to-use", "dry"])
def test_the_strength_of_an_undiluted_product_is_its_actives_and_nothing_was_mixed(form: str) -> None:
    amount = {"value": "14", "unit": "gal"} if form == "ready-to-use" else {"value": "6", "unit": "lb"}
    document = with_product(amount=amount)
    document["mixes"][0] |= {"form": form, "applied": amount, "diluent": None, "left_over": None}
    document["mixes"][0]["surfaces"][0]["applied"] = None
    content = sheet(document)
    assert column(content, "Strength") == ["38 % active"]
    assert fact(content, "Applied")[0] in ("14 gal", "6 lb")
    labels = [one.label for section in content.sections for block in section.blocks
              for one in getattr(block, "facts", ())]  # fmt: skip
    assert "Finished mix made" not in labels
    assert "mixed at the site" not in str(content)


def test_strength_and_coverage_are_said_in_the_labels_units_too() -> None:
    """By hand: 1.5 gal in 15 gal is 0.1, and 128 fl oz are a gallon (NIST Handbook 44, appendix C):
    12.8 fl oz/gal. 14 gal on 1342 ft² are 10.43 gal per 1000 ft²."""
    document = ordinary()
    limits = document["mixes"][0]["products"][0]["label"]["limits"]
    for limit in limits:
        if limit["of"] == "dilution":
            limit["max"] = {"value": "16", "unit": "fl_oz/gal"}
        if limit["of"] == "coverage":
            limit["max"] = {"value": "12", "unit": "gal/(1000 ft**2)"}
    content = sheet(document)
    assert column(content, "Strength") == ["10 % (12.8 fl oz/gal)"]
    assert fact(content, "Finished mix per area") == (
        "1.043 gal/100 ft²",
        "10.43 gal/1000 ft²; 14 gal on 1342 ft²",
    )


def test_mixed_but_not_applied_is_not_headed_as_applied() -> None:
    document = ordinary()
    document["record"] |= {"result": "stood-down", "why": "wind"}
    assert "Products mixed" in [section.title for section in sheet(document).sections]
