"""The invented firms as loaded: what `make run` shows to a newcomer."""

import json
import re
from collections import Counter
from collections.abc import Iterator
from datetime import UTC, datetime
from io import StringIO
from itertools import pairwise
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
from django.conf import settings
from django.core import mail
from django.core.management import call_command
from django.db import transaction
from django.db.models import Sum
from django.test import override_settings

from compliance.models import StoredCheck
from compliance.services.notice_plan import plan_of
from compliance.services.telling import Round
from project.demo.source import read_firm
from project.demo.words import said
from records.document.signed_record import verify
from records.models import (
    Batch,
    Firm,
    Lot,
    Membership,
    NeighbourList,
    Notice,
    NoticeTask,
    SignedFollowUp,
    SignedRecord,
    SigningKey,
    Treatment,
    TreatmentProduct,
    User,
)
from records.outbox.tasks import next_go
from records.register_search import treatments_of
from shared import clock
from shared.quantities import read

SOURCE = read_firm("quillfeather")
STORY, SITES = SOURCE.story, SOURCE.sites
LOADED_AT = datetime(2026, 11, 25, 17, 30, tzinfo=UTC)
HERE = ZoneInfo("America/Los_Angeles")
RULES = {
    "late-record": {"us-wa/deadline/same-day"},
    "wind-over-limit": {"label/99999-12/wind_speed"},
    "missing-wind": {"us-wa/record/wind"},
    "downspouts-left": {"label/99999-12/protection"},
    "drain-left-open": set(),
    "too-strong": {"label/99999-12/dilution"},
    "lapsed-licence": {"us-wa/licence/operator", "us-wa/record/applier-licence"},
}


pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module", autouse=True)
def loaded(django_db_setup, django_db_blocker, tmp_path_factory):
    """All firms, loaded once for this module and rolled back after it; its files are its own."""
    folder = tmp_path_factory.mktemp("var")
    own_files = override_settings(VAR_DIR=folder, KEY_DIR=folder / "keys")
    with django_db_blocker.unblock(), own_files, transaction.atomic():
        with clock.at(LOADED_AT):
            call_command("load_demo", stdout=StringIO())
        yield
        transaction.set_rollback(True)


@pytest.fixture
def firm() -> Firm:
    return Firm.across_firms.get(name="Quillfeather Exterior Care")


@pytest.fixture
def other() -> Firm:
    return Firm.across_firms.get(name="Lanternwick Surface Care")


@pytest.fixture
def marram() -> Firm:
    return Firm.across_firms.get(name="Marram Court Lawn and Walk Care")


@pytest.fixture
def in_office() -> Iterator[None]:
    """The moment at which the demo was loaded, when a newcomer looks at it."""
    with clock.at(LOADED_AT):
        yield


def drafts_of(firm: Firm) -> list[Treatment]:
    return list(Treatment.objects.for_firm(firm).filter(state="draft").order_by("planned_at"))


def checks_at_signing(firm) -> list[StoredCheck]:
    checks = StoredCheck.objects.for_firm(firm).filter(occasion=StoredCheck.Occasion.SIGNING)
    return list(checks.filter(signed_record__version=1).order_by("treatment__planned_at"))


def open_rules(check: StoredCheck, *outcomes: str) -> set[str]:
    """The required rules of a check that are not met, or that come to one of these outcomes."""
    required = [each for each in check.stored["findings"] if each["level"] == "required"]
    return {each["rule"] for each in required if each["outcome"] in (outcomes or ("not_met",))}


def test_three_hundred_treatments_are_signed_and_a_few_lie_ahead(firm):
    states = Counter(treatments_of(firm).values_list("state", flat=True))
    assert states == {"signed": 299, "corrected": 1, "draft": len(STORY["ahead"])}


def test_most_records_are_met_and_the_rest_are_the_storys_faults(firm):
    wrong = [open_rules(check) for check in checks_at_signing(firm) if open_rules(check)]
    told = [RULES[row["what"]] for row in STORY["faults"] if RULES[row["what"]]]
    assert Counter(map(frozenset, wrong)) == Counter(map(frozenset, told))


def test_the_firm_has_answered_one_of_washingtons_questions_and_left_one_open(firm):
    """Roofs and walls are settled from the day of the answer on; walks and drives still hang on the other."""
    (answer,) = SOURCE.firm["answers"]
    markers = {"before": set(), "roof": set(), "hard": set()}
    for check in checks_at_signing(firm):
        surfaces = {surface["kind"] for surface in check.signed_record.sections["surfaces"]}
        told = next(each for each in check.stored["findings"] if each["rule"] == "us-wa/posting/marker")
        early = check.treatment.planned_at.date().isoformat() < answer["valid_from"]
        on_buildings = surfaces <= {"roof", "wall"}
        markers["before" if early else "roof" if on_buildings else "hard"].add(told["outcome"])
        assert told["outcome"] == "not_applicable" or told["level"] == "advised"
    assert markers["roof"] == {"not_applicable"}
    assert "cant_tell" in markers["before"] & markers["hard"]
    questions = {question["id"] for question in checks_at_signing(firm)[-1].stored["questions"]}
    assert answer["question"] not in questions
    assert "us-wa/question/paved-ground" in questions


def test_each_open_finding_was_answered_with_the_persons_reason(firm):
    for check in checks_at_signing(firm):
        answers = json.loads(bytes(check.signed_record.record))["answers"]
        assert {answer["rule"] for answer in answers} == open_rules(check, "not_met", "cant_tell")
        written_on, unmet = check.signed_record.sections, open_rules(check)
        for answer in answers:
            of_a_fault = any(is_reason(row, answer, written_on) for row in STORY["faults"])
            not_told = answer["rule"] not in unmet and answer["reason"] == STORY["reason_for_anything_else"]
            assert of_a_fault or not_told


def is_reason(row: dict, answer: dict, document: dict) -> bool:
    try:
        return said(row["reason"], document) == answer["reason"]
    except KeyError:
        return False


def written(record: SignedRecord) -> str:
    """All that people wrote on a record in their own words, and on its follow-ups."""
    answers = json.loads(bytes(record.record))["answers"]
    after = [follow_up.follow_up.get("detail", "") for follow_up in record.follow_ups.all()]
    return " ".join([*(answer["reason"] for answer in answers), record.sections.get("notes", ""), *after])


def test_what_people_wrote_names_no_street_or_feature_but_the_records_own(firm):
    streets = {site["street"].lstrip("0123456789 ") for site in SITES}
    features = {feature["name"] for site in SITES for feature in site["features"]}
    features |= {f"{side} downspout" for side in ("north-west", "north-east", "south-west", "south-east")}
    named = 0
    for record in SignedRecord.objects.for_firm(firm):
        text, site = written(record), record.sections["site"]
        own = {feature["name"] for feature in site["features"]}
        assert {street for street in streets if street in text} <= {
            site["address"]["line1"].lstrip("0123456789 ")
        }
        assert {feature for feature in features if feature in text} <= own
        named += any(place in text for place in streets | features)
    assert named >= 3


def test_what_people_wrote_of_the_wind_are_the_records_own_readings(firm):
    quoted = 0
    for record in SignedRecord.objects.for_firm(firm):
        readings = record.sections["weather"]["readings"]
        winds = {reading["wind_speed"]["value"] for reading in readings if "wind_speed" in reading}
        text = written(record)
        about_wind = re.search(r"\b[Ww]ind\b|second reading|gust|Gusty", text)
        figures = set(re.findall(r"\b[0-9]+\b", text)) if about_wind else set()
        assert figures <= winds, record.treatment.number
        quoted += bool(figures)
        assert all(("wind_speed" in reading) == ("source" in reading) for reading in readings)
    windy = len([row for row in STORY["faults"] if row["what"] == "wind-over-limit"])
    assert quoted == windy + Treatment.objects.for_firm(firm).filter(result="stood-down").count()


def test_every_signature_verifies(firm):
    keys = [
        Ed25519PublicKey.from_public_bytes(bytes(key.public)) for key in SigningKey.objects.for_firm(firm)
    ]
    for row in SignedRecord.objects.for_firm(firm).iterator():
        assert not verify(json.loads(bytes(row.record)), row.sections, row.salts, keys).problems


def test_days_stood_down_for_wind_are_signed_with_their_readings(firm):
    stood_down = list(Treatment.objects.for_firm(firm).filter(result="stood-down"))
    assert len({each.day for each in stood_down}) == 2
    assert all(each.document["weather"]["readings"] and not each.document.get("mixes") for each in stood_down)


def test_the_draws_from_the_shared_tank_add_up_to_it(firm):
    batch = Batch.objects.for_firm(firm).get()
    documents = Treatment.objects.for_firm(firm).values_list("document", flat=True)
    loads = [
        load for document in documents for mix in document.get("mixes", []) for load in mix.get("loads", [])
    ]
    drawn = [read(load["volume"]).base for load in loads if load.get("batch") == str(batch.pk)]
    assert len(drawn) == 2
    assert sum(drawn) == batch.volume.base


def test_one_record_is_corrected_and_names_the_one_that_it_replaces(firm):
    corrected = SignedRecord.objects.for_firm(firm).get(version=2)
    assert corrected.replaces.version == 1
    assert "hour meter" in corrected.reason


def test_what_came_after_stands_in_follow_ups(firm):
    kinds = set(SignedFollowUp.objects.for_firm(firm).values_list("kind", flat=True))
    assert kinds == {"feature-restored", "copy-given", "sign-removed", "incident", "note", "inspection"}


def test_no_lot_gives_more_than_was_received(firm):
    for lot in Lot.objects.for_firm(firm):
        column = f"mixed_{lot.amount.dimension}"
        lines = TreatmentProduct.objects.for_firm(firm).filter(lot=lot.number)
        taken = lines.aggregate(taken=Sum(column))["taken"] or 0
        assert taken <= lot.amount.base, lot.number


def test_nobody_is_at_two_places_at_once(firm):
    times: dict[str, list[tuple[str, str]]] = {}
    for each in Treatment.objects.for_firm(firm).exclude(result=""):
        timing = each.document["timing"]
        if "started_at" in timing:
            span = (timing["started_at"], timing["finished_at"])
            times.setdefault(each.document["people"][0]["name"], []).append(span)
    for spans in times.values():
        ordered = sorted((datetime.fromisoformat(start), datetime.fromisoformat(end)) for start, end in spans)
        assert all(first[1] < second[0] for first, second in pairwise(ordered))


def test_the_crew_finds_work_for_today(firm):
    drafts = Treatment.objects.for_firm(firm).filter(state="draft")
    today = [
        each
        for each in drafts
        if each.planned_at.astimezone(HERE).date() == LOADED_AT.astimezone(HERE).date()
    ]
    assert len(today) == 4
    assert {each.document["people"][0]["name"] for each in today} == {"R. Osei", "K. Lindqvist", "D. Fenn"}


def test_each_role_has_a_member_whose_pass_phrase_is_kept_in_a_private_file(firm):
    path = Path(settings.VAR_DIR) / "demo-sign-ins.txt"
    assert path.stat().st_mode & 0o777 == 0o600
    kept = {words[1]: words[2] for words in map(str.split, path.read_text().splitlines()) if len(words) == 3}
    members = Membership.objects.for_firm(firm)
    assert {member.role for member in members} == {"crew", "manager", "office", "inspector"}
    assert all(member.user.check_password(kept[member.user.email]) for member in members)


def test_the_second_firm_sees_nothing_of_the_first(firm, other):
    assert treatments_of(other).count() == 4
    ours = set(treatments_of(firm).values_list("pk", flat=True))
    assert not ours & set(treatments_of(other).values_list("pk", flat=True))
    assert set(treatments_of(other).values_list("products", flat=True)) == {
        "Sample Walk and Wall Liquid (99999-21)"
    }


def test_the_third_firm_has_a_few_records_and_lawns_and_a_walk_ahead(marram):
    states = Counter(treatments_of(marram).values_list("state", flat=True))
    assert states == {"signed": 4, "draft": 3}
    assert {each.outcome for each in checks_at_signing(marram)} == {"met"}
    kinds = [{each["kind"] for each in draft.document["surfaces"]} for draft in drafts_of(marram)]
    assert kinds == [{"lawn"}, {"walk"}, {"lawn"}]


def test_of_one_lawn_the_neighbors_are_told_but_one_mail_came_to_nothing_and_one_letter_waits(marram):
    lawn, *_others = drafts_of(marram)
    told = {each.name: (each.means, each.state) for each in Notice.objects.for_firm(marram)}
    assert told == {
        "R. Dovecote": ("letter", "delivered"),
        "H. Pennywort": ("email", "sent"),
        "Y. Calderas": ("email", "sent"),
        "F. Burdock": ("email", "sent"),
        "B. Quince": ("email", "refused"),
        "L. Sorrel": ("door", "delivered"),
        "C. Oatley": ("letter", "printed"),
    }
    assert {each.treatment for each in Notice.objects.for_firm(marram).select_related("treatment")} == {lawn}
    assert [each.notice.name for each in NoticeTask.objects.for_firm(marram)] == ["B. Quince"]
    mails = Notice.objects.for_firm(marram).filter(state="sent")
    taken = [each.attempts.get(kind="accepted") for each in mails]
    assert all("no mail was sent" in each.answer for each in taken)


def test_each_notice_of_the_demo_went_out_after_its_plan_and_in_time(marram):
    for notice in Notice.objects.for_firm(marram).filter(sent_at__isnull=False).select_related("treatment"):
        assert notice.treatment.created_at < notice.made_at < notice.sent_at < LOADED_AT
        assert notice.sent_at < notice.latest


def test_of_the_walk_everybody_whom_the_law_names_waits_for_a_newcomer_to_prepare_the_notices(
    marram, in_office
):
    """Six of eight neighbors: one does not abut, one is farther than 150 feet (ECL 33-1004(1)(b)(i))."""
    people = Round(drafts_of(marram)[1]).people
    due = {one.contact.name for one in people if one.is_due}
    offered = {one.contact.name for one in people} - due
    assert due == {
        *("R. Dovecote", "H. Pennywort", "Y. Calderas", "L. Sorrel"),
        *("B. Quince", "C. Oatley", "F. Burdock"),
    }
    assert {"W. Thrift", "G. Alder"} <= offered
    assert all(one.ways for one in people if one.is_due)


def test_at_the_third_firms_other_site_nobody_can_tell_who_the_neighbors_are(marram, in_office):
    other = drafts_of(marram)[2]
    assert not NeighbourList.objects.for_firm(marram).filter(site=other.site).exists()
    applies = {duty.rule: duty.applies for duty in plan_of(other).duties.notices}
    assert applies["us-ny/notice/neighbors"] is None


def test_nothing_is_sent_when_the_demo_is_loaded_and_nothing_is_left_for_the_worker(marram):
    assert mail.outbox == []
    assert next_go(marram) is None


def test_a_registered_person_lives_next_door_to_a_walk_ahead_of_the_first_firm(firm, in_office):
    beside = {
        draft.site.name: draft.document["surfaces"][0]["kind"]
        for draft in drafts_of(firm)
        if any(one.abutting for one in plan_of(draft).context.registered_persons or ())
    }
    assert beside == {"House, 64 Old Cannery Road": "walk"}


def test_loading_again_changes_nothing(firm):
    before = User.objects.count()
    words = StringIO()
    call_command("load_demo", stdout=words)
    assert "nothing was loaded" in words.getvalue()
    assert (User.objects.count(), treatments_of(firm).count()) == (before, 300 + len(STORY["ahead"]))
