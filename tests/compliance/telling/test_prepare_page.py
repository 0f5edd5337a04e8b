"""The page on which the office prepares notices, looks at them and sends them."""

from datetime import timedelta

import pytest
from django.urls import reverse

from compliance.pages.telling_forms import line_name
from compliance.services.telling import Round
from compliance.services.telling_many import ByDefault
from compliance.services.unsaid import to_be_typed
from records.document.edits import Edit
from records.models import Notice, Treatment
from records.services.drafts import edit_draft
from tests.compliance.telling.conftest import PLANNED
from tests.records.auditing.entries import newest

pytestmark = pytest.mark.django_db


def address(lawn):
    return reverse("prepare_notices", kwargs={"uuid": lawn.pk})


def typed(lawn, *names, **more):
    """What the page posts with these people ticked."""
    found = {}
    for one in Round(lawn).people:
        if one.contact.name in names:
            ticked = {"tell": "on", "means": one.ways[0], "language": " ".join(one.languages)}
            found |= {f"{one.key}-{name}": value for name, value in ticked.items()}
    found |= {line_name(line.key): f"typed: {line.key}" for line in to_be_typed(Round(lawn), "en")}
    return found | {"alternate_1": "2026-09-15", "alternate_2": "2026-09-16", "until": "11:00"} | more


def notices(lawn):
    return {one.name: one.means for one in Notice.objects.for_firm(lawn.firm)}


@pytest.fixture
def desk(client, office):
    client.force_login(office.user)
    return client


def test_it_ticks_who_is_due_and_asks_for_the_dates_that_the_law_wants(desk, lawn, neighbours):
    page = desk.get(address(lawn)).content.decode()
    assert page.count("checked") == 3
    assert 'name="alternate_2"' in page
    assert 'name="alternate_3"' not in page


def test_it_says_beside_whom_a_notice_did_not_reach_by_which_means(desk, lawn, neighbours):
    desk.post(address(lawn), typed(lawn, "B. Lark", do="send"))
    Notice.objects.for_firm(lawn.firm).update(state=Notice.State.REFUSED)
    page = desk.get(address(lawn)).content.decode()
    assert page.count("A notice did not reach them: e-mail, lark@example.net") == 1
    assert "No other way is known." not in page


def test_looking_shows_every_notice_and_sends_none(desk, lawn, neighbours):
    answer = desk.post(address(lawn), typed(lawn, "A. Marlowe", "B. Lark", "C. Wren", do="look"))
    page = answer.content.decode()
    assert "Ready to go: 2 e-mails, 1 letter." in page
    assert "lark@example.net" in page
    assert notices(lawn) == {}


@pytest.mark.parametrize(("act", "kind"), [("look", "viewed"), ("letter", "printed"), ("", "viewed")])
def test_that_a_member_looked_at_notices_or_printed_them_is_noted(desk, lawn, neighbours, office, act, kind):
    ticked = typed(lawn, "A. Marlowe", "C. Wren", do=act)
    answer = desk.post(address(lawn), ticked if act else {"do": "look"})
    assert answer.status_code == (200 if act else 422)
    entry = newest(lawn.firm)
    assert (entry.kind, entry.by, entry.thing_id) == (kind, office.user, str(lawn.pk))


def test_what_was_looked_at_is_sent_by_posting_it_again_and_twice_is_once(desk, lawn, neighbours):
    ticked = typed(lawn, "A. Marlowe", "B. Lark", "C. Wren", do="send")
    for _ in range(2):
        assert desk.post(address(lawn), ticked)["Location"].endswith("/notices/sent/")
    assert notices(lawn) == {"A. Marlowe": "email", "B. Lark": "email", "C. Wren": "letter"}


def test_the_letters_can_be_seen_before_they_are_made(desk, lawn, neighbours):
    answer = desk.post(address(lawn), typed(lawn, "C. Wren", do="letter"))
    assert answer["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")
    assert notices(lawn) == {}


LICENCE = line_name("licence")


def test_what_no_record_answers_is_asked_for_once_and_stands_on_every_notice_that_asks_for_it(
    desk, lawn, neighbours
):
    page = desk.get(address(lawn)).content.decode()
    assert page.count(f'name="{LICENCE}"') == 1
    desk.post(address(lawn), typed(lawn, "B. Lark", "C. Wren", do="send") | {LICENCE: "C1234567"})
    texts = Notice.objects.for_firm(lawn.firm).values_list("text", flat=True)
    assert [text.count("C1234567") for text in texts] == [2, 2]


def test_what_a_law_wants_said_goes_on_no_e_mail_as_a_blank(desk, lawn, neighbours):
    ticked = typed(lawn, "B. Lark", "C. Wren", do="send") | {LICENCE: "  "}
    answer = desk.post(address(lawn), ticked)
    assert answer.status_code == 422
    assert "Type it, or tell on paper: B. Lark." in answer.content.decode()
    assert notices(lawn) == {}


def test_on_paper_it_may_stay_a_blank_and_the_look_at_it_says_so(desk, lawn, neighbours):
    answer = desk.post(address(lawn), typed(lawn, "C. Wren", do="look") | {LICENCE: ""})
    assert "a blank to be filled in by hand: License number" in answer.content.decode()


def test_what_promises_safety_is_typed_on_no_notice(desk, lawn, neighbours):
    ticked = typed(lawn, "C. Wren", do="look") | {LICENCE: "Safe for pets"}
    assert "federal law forbids it" in desk.post(address(lawn), ticked).content.decode()


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"alternate_2": ""}, "This field is required."),
        ({"alternate_2": "2026-09-15"}, "Name another day: this one is named already."),
        ({"alternate_1": "2026-09-14"}, "Name another day: this one is named already."),
        ({"alternate_1": "2026-09-08"}, "This day is past."),
        ({"alternate_1": "2026-09-12"}, "This day comes before the visit: name a later one."),
        ({"until": "08:00"}, "This must be later than the planned start."),
        ({"until": "soon"}, "Enter a valid time."),
    ],
)
def test_what_is_wrong_stands_beside_its_field_and_all_that_was_typed_stays(
    desk, lawn, neighbours, wrong, sentence
):
    answer = desk.post(address(lawn), typed(lawn, "B. Lark", do="send") | wrong)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert sentence in page
    assert page.count("checked") == 1
    assert notices(lawn) == {}


def test_nobody_ticked_is_said(desk, lawn, neighbours):
    assert "Tick at least one person." in desk.post(address(lawn), typed(lawn, do="send")).content.decode()


def test_a_means_that_the_law_does_not_allow_is_refused(desk, lawn, neighbours):
    lark = next(one for one in Round(lawn).people if one.contact.name == "B. Lark")
    answer = desk.post(address(lawn), typed(lawn, "B. Lark", do="send") | {f"{lark.key}-means": "phone"})
    assert answer.status_code == 422
    assert notices(lawn) == {}


def test_a_stranger_finds_nothing(client, stranger, lawn):
    client.force_login(stranger.user)
    assert client.get(address(lawn)).status_code == 404


def test_a_card_to_hand_over_is_counted_and_seen_before_it_is_made(desk, lawn, neighbours):
    wren = next(one for one in Round(lawn).people if one.contact.name == "C. Wren")
    ticked = typed(lawn, "C. Wren") | {f"{wren.key}-means": "in-person"}
    assert (
        "Ready to go: 1 card to hand over."
        in desk.post(address(lawn), ticked | {"do": "look"}).content.decode()
    )
    assert desk.post(address(lawn), ticked | {"do": "in-person"}).content.startswith(b"%PDF")


def test_who_has_no_name_is_called_by_their_address_as_are_their_controls(desk, lawn, neighbours):
    neighbours[1].name = ""
    neighbours[1].save()
    page = desk.get(address(lawn)).content.decode()
    assert "<strong>Neighbour, 2 Heron Row</strong>" in page
    assert page.count('<span class="visually-hidden">: neighbour, 2 Heron Row</span>') == 2


def test_the_office_is_told_before_sending_that_a_spanish_notice_quotes_an_english_label(desk, lawn, office):
    document = lawn.document
    document["mixes"][0]["products"][0]["label"]["statements"] = ["Keep people off until dry."]
    Treatment.objects.for_firm(lawn.firm).filter(pk=lawn.pk).update(document=document)
    (marlowe,) = [one for one in Round(lawn).people if one.contact.name == "A. Marlowe"]
    spanish = typed(lawn, "A. Marlowe", do="look") | {f"{marlowe.key}-language": "es"}
    page = desk.post(address(lawn), spanish).content.decode()
    assert "stand in English in the Spanish notice, marked as a quote: Advertencias de la etiqueta." in page
    assert '<span lang="en">Keep people off until dry.</span>' in page


def offered(desk, lawn):
    """What stands in the fields of the visit."""
    page = desk.get(address(lawn)).context["visit"]
    return {name: str(page[name].value() or "") for name in page.fields}


def test_the_days_that_follow_are_offered_as_the_week_of_notices_offers_them(desk, lawn, neighbours):
    found = offered(desk, lawn)
    assert (found["alternate_1"], found["alternate_2"]) == ("2026-09-15", "2026-09-16")
    assert [day.isoformat() for day in ByDefault(lawn).visit.alternates] == ["2026-09-15", "2026-09-16"]


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_browser_can_read_the_offered_day_in_each_language(desk, lawn, neighbours, language):
    page = desk.get(address(lawn), headers={"accept-language": language}).content.decode()
    assert 'value="2026-09-15"' in page


def test_what_was_typed_of_a_visit_is_offered_to_the_next_round_and_to_the_week(desk, lawn, neighbours):
    days = {"alternate_1": "2026-09-16", "alternate_2": "2026-09-18"}
    desk.post(address(lawn), typed(lawn, "C. Wren", do="look", **days) | {LICENCE: "C1234567"})
    found = offered(desk, lawn)
    assert found[LICENCE] == "C1234567"
    assert (found["alternate_1"], found["alternate_2"]) == ("2026-09-16", "2026-09-18")
    assert found["until"] == "11:00:00"
    week = ByDefault(lawn)
    assert week.visit.filled["licence"] == "C1234567"
    assert [day.isoformat() for day in week.visit.alternates] == ["2026-09-16", "2026-09-18"]
    assert {one.contact.name for one in week.to_be_typed} == set()


def test_after_a_move_no_day_is_offered_that_comes_before_the_visit(desk, lawn, neighbours, office):
    desk.post(address(lawn), typed(lawn, "C. Wren", do="look"))
    start = (PLANNED + timedelta(days=1)).isoformat()
    edit_draft(lawn, [Edit("move", "timing.planned_at", start, lawn.revision)], office.user)
    found = offered(desk, lawn)
    assert (found["alternate_1"], found["alternate_2"]) == ("2026-09-16", "2026-09-17")


def test_days_that_nobody_typed_are_not_carried_to_another_day(desk, lawn, neighbours, office):
    def moved_to(day):
        start = PLANNED.replace(day=day).isoformat()
        edit_draft(lawn, [Edit(f"to {day}", "timing.planned_at", start, lawn.revision)], office.user)
        lawn.refresh_from_db()
        found = offered(desk, lawn)
        return {name: found[name] for name in ("alternate_1", "alternate_2")}

    as_offered = moved_to(16)
    assert as_offered == {"alternate_1": "2026-09-17", "alternate_2": "2026-09-18"}
    desk.post(address(lawn), typed(lawn, "C. Wren", do="look", **as_offered))
    assert moved_to(11) == {"alternate_1": "2026-09-12", "alternate_2": "2026-09-13"}


def test_days_that_were_typed_stay_when_they_are_sent_as_they_are_offered_again(desk, lawn, neighbours):
    days = {"alternate_1": "2026-09-16", "alternate_2": "2026-09-18"}
    for _ in range(2):
        desk.post(address(lawn), typed(lawn, "C. Wren", do="look", **days))
        assert offered(desk, lawn).items() >= days.items()
