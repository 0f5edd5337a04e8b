"""A bundle for a request is chosen, made by the worker, looked after, taken out once on record, and dropped."""

import io
from datetime import timedelta
from hashlib import sha256
from html import unescape
from zipfile import ZipFile

from django.urls import reverse
from lxml.html import fromstring

from compliance.models import Handing, RequestAnswer
from compliance.request_bundle.folder import file_of, folder_of
from compliance.request_bundle.letting_go import let_go_of_all_with
from compliance.services.official_forms import form_named
from records.models import AuditEntry
from shared import clock
from tests.compliance.pages.test_requests import ASKED, NOW, manager, page_of, taken  # noqa: F401 - a fixture
from tests.project.test_addresses import signed  # noqa: F401 - a fixture
from tests.records.auditing.entries import newest

GIVEN = {"to": ASKED["name"], "how": "by e-mail", "withheld": ["notices"], "language": "en"}


def made(manager, asked=None, **given) -> Handing:  # noqa: F811
    asked = asked or taken(manager)
    answer = manager.post(reverse("answer_request", kwargs={"asked": asked.pk}), GIVEN | given)
    assert answer.status_code == 302, answer.context["form"].errors
    return Handing.across_firms.get(pk=answer["Location"].strip("/").rpartition("/")[2])


def where(handing: Handing) -> str:
    return reverse("handing", kwargs={"asked": handing.request_id, "handing": handing.pk})


def test_what_is_taken_out_is_kept_as_handed_over_with_the_digest_of_the_very_file(manager, signed, firm):  # noqa: F811
    handing = made(manager)
    assert (handing.state, handing.done, handing.of_all) == ("ready", 1, 1)
    assert not RequestAnswer.across_firms.exists()
    file = manager.post(where(handing), {"take": "yes"}).getvalue()
    assert f"records/{signed.number}-v1.json" in ZipFile(io.BytesIO(file)).namelist()
    answer = RequestAnswer.objects.for_firm(firm).get()
    assert (answer.to, answer.how, answer.withheld) == (ASKED["name"], "by e-mail", ["notices"])
    assert (answer.treatments, answer.size, answer.handing) == ([str(signed.pk)], len(file), handing)
    assert answer.digest == handing.digest == f"sha256:{sha256(file).hexdigest()}"
    assert answer.digest in page_of(manager, handing.request).content.decode()
    assert newest(firm, thing="compliance.requestanswer").reason == "bundle"


def test_it_is_handed_over_once_and_each_time_that_it_goes_out_is_noted(manager, signed, firm):  # noqa: F811
    handing = made(manager)
    for _ in range(2):
        manager.post(where(handing), {"take": "yes"}).getvalue()
    assert RequestAnswer.objects.for_firm(firm).count() == 1
    sent = AuditEntry.objects.for_firm(firm).filter(kind="sent", thing="compliance.requestanswer")
    assert sent.count() == 2


def look_at(handing: Handing, name: str) -> str:
    return reverse("look_at_handing", kwargs={"asked": handing.request_id, "handing": handing.pk, "name": name})


def test_who_looks_at_the_file_before_it_goes_has_handed_nothing_over_and_is_kept_as_having_seen_it(
    manager,  # noqa: F811
    signed,  # noqa: F811
    firm,
):
    handing = made(manager)
    form = next(name for name in ZipFile(file_of(handing)).namelist() if name.startswith("forms/"))
    page = manager.get(where(handing)).content.decode()
    title = form_named("us-wa-application-record").form.title.say("en")
    assert f"On the authority's form: {title}, 1" in unescape(page)
    for name in ("cover-letter.pdf", "index.pdf", form):
        assert look_at(handing, name) in page
        assert manager.get(look_at(handing, name)).getvalue().startswith(b"%PDF")
    assert manager.get(look_at(handing, "bundle.zip")).getvalue() == file_of(handing).read_bytes()
    assert not RequestAnswer.across_firms.exists()
    seen = newest(firm, thing="compliance.handing")
    assert (seen.kind, seen.page) == (
        "viewed",
        "requests/<uuid:asked>/files/<uuid:handing>/look/<path:name>",
    )
    for name in ("log.json", "forms/none.pdf", "../bundle.zip"):
        assert manager.get(look_at(handing, name)).status_code == 404


def test_what_the_bar_is_swapped_for_has_the_link_and_the_digest_in_it(manager, signed):  # noqa: F811
    handing = made(manager)
    (part,) = fromstring(manager.get(where(handing)).content).xpath("//*[@id='handing']")
    said = part.text_content()
    assert "Make a link" in said
    assert handing.digest in said


def test_each_version_is_noted_when_the_worker_begins_and_not_again_in_its_next_turn(manager, signed, firm):  # noqa: F811
    handing = made(manager)
    Handing.across_firms.update(state="failed")
    manager.post(where(handing), {"again": "yes"})
    handing.refresh_from_db()
    assert handing.state == "ready"
    out = AuditEntry.objects.for_firm(firm).filter(kind="exported", thing="records.signedrecord")
    assert [entry.reason for entry in out] == ["bundle"]


def test_a_form_that_is_sent_twice_makes_one_file_and_one_that_was_changed_another(manager, signed):  # noqa: F811
    asked = taken(manager)
    key = manager.get(reverse("answer_request", kwargs={"asked": asked.pk})).context["key"]
    first, second = (made(manager, asked, key=key) for _ in range(2))
    assert first == second
    assert made(manager, asked, key=key, how="on a stick") != first
    assert Handing.across_firms.count() == 2


def test_who_is_no_authority_gets_neither_workers_nor_neighbours_unless_the_manager_says_so(manager, signed):  # noqa: F811
    asked = taken(manager, asked_by="customer", name="A. Marlowe")
    form = manager.get(reverse("answer_request", kwargs={"asked": asked.pk})).context["form"]
    assert form["withheld"].value() == ["people", "notices"]
    assert "findings" not in form.fields
    law = taken(manager)
    form = manager.get(reverse("answer_request", kwargs={"asked": law.pk})).context["form"]
    assert (form["withheld"].value(), form["findings"].value()) == (["notices"], None)
    assert (form["to"].value(), form["sheets"].value()) == (ASKED["name"], ["en"])


def test_nothing_is_made_where_to_whom_is_missing(manager, signed):  # noqa: F811
    asked = taken(manager)
    address = reverse("answer_request", kwargs={"asked": asked.pk})
    answer = manager.post(address, GIVEN | {"to": ""})
    assert (answer.status_code, set(answer.context["form"].errors)) == (422, {"to"})
    assert not Handing.across_firms.exists()


def test_a_turn_that_is_heard_of_no_more_is_said_to_be_broken_off_and_goes_on(manager, signed):  # noqa: F811
    handing = made(manager)
    Handing.across_firms.update(state="making", noted_at=NOW, done=0)
    assert "hx-trigger" in manager.get(where(handing)).content.decode()
    with clock.at(NOW + timedelta(minutes=3)):
        page = manager.get(where(handing)).content.decode()
        assert "This was broken off after" in page
        assert "hx-trigger" not in page
        manager.post(where(handing), {"again": "yes"})
    handing.refresh_from_db()
    assert (handing.state, handing.done) == ("ready", 1)


def test_what_is_dropped_or_gone_with_a_backup_is_not_there_any_more(manager, signed, firm):  # noqa: F811
    dropped, lost = made(manager), made(manager)
    manager.post(where(dropped), {"drop": "yes"})
    assert not folder_of(dropped).exists()
    file_of(lost).unlink()
    for handing in (dropped, lost):
        assert "The file is not here any more" in manager.get(where(handing)).content.decode()
        assert manager.post(where(handing), {"take": "yes"}).status_code == 302
    assert not RequestAnswer.across_firms.exists()


def test_a_bundle_with_a_treatment_that_is_erased_goes(manager, signed, draft, firm):  # noqa: F811
    handing = made(manager)
    let_go_of_all_with(firm, draft.pk)
    assert file_of(handing).exists()
    let_go_of_all_with(firm, signed.pk)
    handing.refresh_from_db()
    assert (handing.state, file_of(handing).exists()) == ("gone", False)


def test_only_managers_of_the_firm_see_bundles(client, manager, signed, member, stranger):  # noqa: F811
    handing = made(manager)
    client.force_login(member.user)
    assert client.get(where(handing)).status_code == 403
    client.force_login(stranger.user)
    for answer in (client.get(where(handing)), client.post(where(handing), {"take": "yes"})):
        assert answer.status_code == 404


def test_the_file_is_this_users_alone(manager, signed):  # noqa: F811
    path = file_of(made(manager))
    assert [each.stat().st_mode & 0o077 for each in (path, path.parent, path.parent.parent)] == [0, 0, 0]


def test_what_was_drawn_before_it_failed_is_not_drawn_again(manager, signed, monkeypatch):  # noqa: F811
    drawn = []

    def once(record, file, language):
        drawn.append(language)
        if drawn == ["en", "es"]:
            raise OSError("no space left")
        return b"%PDF drawn"

    monkeypatch.setattr("compliance.request_bundle.contents.drawn_sheet", once)
    handing = made(manager, sheets=["en", "es"])
    assert handing.state == "failed"
    assert "The file could not be made" in manager.get(where(handing)).content.decode()
    manager.post(where(handing), {"again": "yes"})
    handing.refresh_from_db()
    assert (handing.state, drawn) == ("ready", ["en", "es", "es"])
    assert ZipFile(file_of(handing)).read(f"sheets/{signed.number}-v1-en.pdf") == b"%PDF drawn"
