"""What a device keeps to choose from: rows as they are written on each of the days to come."""

from datetime import date, timedelta

from records.forms.kept_choices import kept_choices, version_of
from records.models import LabelVersion
from records.reference import person_part
from tests.factories import CalibrationFactory, LabelVersionFactory, LicenceFactory

TODAY = date(2026, 9, 14)


def of(firm, kind: str, name: str, today: date = TODAY, language: str = "en") -> dict:
    return next(row for row in kept_choices(firm, today, language)[kind] if row["name"] == name)


def test_a_person_stands_as_the_service_writes_them(firm, member, plan):
    (span,) = of(firm, "people", "R. Osei")["spans"]
    assert span["part"] == person_part(member.person, TODAY)
    assert span["part"]["licences"][0]["number"] == "CO-00231"


def test_a_licence_that_ends_on_a_coming_day_is_left_out_from_the_day_after(firm, member):
    LicenceFactory(firm=firm, person=member.person, valid_to=TODAY + timedelta(days=5))
    now, then = of(firm, "people", "R. Osei")["spans"]
    assert (now["from"], len(now["part"]["licences"])) == ("2026-09-14", 1)
    assert (then["from"], then["part"]["licences"]) == ("2026-09-20", [])


def test_a_label_that_begins_on_a_coming_day_is_kept_for_it(firm, plan):
    product = plan.products[0].product
    LabelVersionFactory(firm=firm, product=product, version="2026-09", valid_from=TODAY + timedelta(days=14))
    versions = [span["part"]["label"]["version"] for span in of(firm, "labels", "Sample Moss Wash")["spans"]]
    assert versions == ["2025-03", "2026-09"]


def test_what_begins_later_than_a_device_may_be_away_is_not_kept(firm, plan):
    product = plan.products[0].product
    LabelVersionFactory(firm=firm, product=product, version="2026-09", valid_from=TODAY + timedelta(days=15))
    assert len(of(firm, "labels", "Sample Moss Wash")["spans"]) == 1


def test_a_rig_has_the_flow_of_its_newest_calibration(firm, plan):
    CalibrationFactory(rig=plan.rig, firm=firm, on=date(2026, 9, 13))
    (span,) = of(firm, "rigs", "Rig 2")["spans"]
    assert span["part"]["calibrated_on"] == "2026-09-13"
    assert ["Calibrated on", "2026-09-13"] in [list(fact) for fact in span["facts"]]


def test_limits_and_equipment_of_a_label_are_said_in_the_readers_language(firm, plan):
    (span,) = of(firm, "labels", "Sample Moss Wash")["spans"]
    said = dict(span["facts"])
    assert "wind speed: at most 10 mph" in said["The label's limits"]
    assert said["Protective equipment that the label asks for"] == "chemical-resistant gloves, goggles"


def test_a_label_that_can_not_stand_in_a_document_can_not_be_chosen(firm, plan):
    LabelVersion.objects.for_firm(firm).update(label={"limits": "none"})
    assert kept_choices(firm, TODAY, "en")["labels"] == []


def test_nothing_of_another_firm_is_kept(firm, plan, stranger):
    kept = kept_choices(stranger.firm, TODAY, "en")
    assert [[row["name"] for row in kept[kind]] for kind in ("people", "rigs", "labels")] == [
        ["S. Tranger"], [], [],
    ]  # fmt: skip


def test_the_version_is_another_one_once_a_label_is(firm, plan):
    before = version_of(firm, TODAY)
    assert version_of(firm, TODAY) == before
    LabelVersion.objects.for_firm(firm).update(version="2026-09")
    assert version_of(firm, TODAY) != before
