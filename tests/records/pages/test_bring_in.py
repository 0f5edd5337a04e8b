"""The way in of spreadsheets, on its pages; and what was brought in is nowhere taken for a signed record."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from records.models import ArrivalFile, Treatment
from tests.project.test_addresses import ONLY_POSTED, OPEN_TO_ALL, address, our_names
from tests.records.arriving.books import book
from tests.records.auditing.entries import newest
from tests.records.services.test_bringing_in import BAD, LOG

State = ArrivalFile.State


@pytest.fixture
def manager(client, colleague):
    client.force_login(colleague.user)
    return client


@pytest.fixture
def send(manager, firm):
    def send(content: str | bytes, name: str = "log.csv") -> tuple[ArrivalFile, str]:
        data = content.encode() if isinstance(content, str) else content
        answer = manager.post(reverse("bring_in"), {"file": SimpleUploadedFile(name, data)})
        file = ArrivalFile.objects.for_firm(firm).order_by("-at")[0]
        assert answer.status_code == 302 and answer["Location"] == where(file)
        return file, where(file)

    return send


def where(file: ArrivalFile) -> str:
    return reverse("arrival", kwargs={"file": file.pk})


def shown(client, address: str) -> str:
    answer = client.get(address)
    assert answer.status_code == 200
    return answer.content.decode()


@pytest.fixture
def brought_in(manager, send, firm) -> list[Treatment]:
    _file, page = send(LOG)
    manager.post(page, {"read": "yes"})
    manager.post(page, {"take": "yes"})
    return list(Treatment.objects.for_firm(firm).filter(state="brought-in").order_by("day"))


def test_a_log_goes_the_whole_way_on_its_pages(manager, send, firm):
    _file, page = send(LOG)
    words = shown(manager, page)
    assert "What each column is" in words and '<option value="day" selected>' in words
    manager.post(page, {"read": "yes"})
    words = shown(manager, page)
    assert "3 can be brought in." in words and "Bring in all of it" in words
    manager.post(page, {"take": "yes"})
    assert "Brought in by J. Quill" in shown(manager, page)
    listed = shown(manager, reverse("register"))
    assert listed.count("Brought in</span>") == 3
    manager.post(page, {"undo": "yes"})
    assert "Taken back by J. Quill" in shown(manager, page)
    assert not Treatment.objects.for_firm(firm).exists()


def test_what_was_brought_in_is_read_in_spanish_by_who_reads_spanish(manager, send, firm):
    _file, page = send("Fecha,Cliente,Agua (L)\n2024-04-03,A. Marlowe,50\n")
    manager.post(page, {"read": "yes"})
    manager.post(page, {"take": "yes"})
    manager.cookies["django_language"] = "es"
    words = shown(manager, reverse("treatment", kwargs={"uuid": Treatment.objects.for_firm(firm).get().pk}))
    assert "agua: 50 L" in words and "water" not in words


def test_faults_are_shown_by_row_and_cell_and_go_out_as_a_table(manager, send, firm):
    file, page = send(BAD)
    manager.post(page, {"read": "yes"})
    words = shown(manager, page)
    assert "Row 5, A5 · Date:" in words and "5 gallons per nothing" in words
    assert "Bring in all of it" not in words and "Bring in the 3 good rows alone" in words
    table = manager.get(reverse("arrival_faults", kwargs={"file": file.pk})).getvalue().decode()
    assert "5,A5 · Date,31/02/2025,There is no such day." in table
    assert (newest(firm).kind, newest(firm).thing_id) == ("exported", str(file.pk))


def test_what_the_file_can_t_tell_is_asked_on_its_page(manager, send):
    text = LOG.replace("2024-04-03", "03/04/2024").replace("Amount (gal)", "Amount")
    _file, page = send(text)
    manager.post(page, {"read": "yes"})
    words = shown(manager, page)
    assert "In which order do day and month stand?" in words
    assert "In which unit is this: amount of product?" in words
    manager.post(page, {"read": "yes", "date_order": "dmy", "unit-amount": "gal"})
    assert "3 can be brought in." in shown(manager, page)


def test_columns_and_sheet_are_chosen_by_hand(manager, send, firm):
    data = book(["Old papers"], Jobs=[["Whose", "When it was"], ["A. Marlowe", "2024-04-03"]])
    _file, page = send(data, "log.xlsx")
    manager.post(page, {"read": "yes", "kind": "treatments", "sheet": "Jobs"})
    words = shown(manager, page)
    assert "These are its columns now: look them over, then look at all rows." in words and "Whose" in words
    manager.post(page, {"read": "yes"})
    assert "No column is taken for this: day. Choose it." in shown(manager, page)
    manager.post(page, {"read": "yes", "columns": ["customer", "day"]})
    manager.post(page, {"take": "yes"})
    assert Treatment.objects.for_firm(firm).get().customer_name == "A. Marlowe"


def test_what_is_no_spreadsheet_is_refused_in_words(manager, firm):
    for data, words in (
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "old or a locked workbook"),
        (b"\0\1\2", "This is no text"),
    ):
        answer = manager.post(reverse("bring_in"), {"file": SimpleUploadedFile("log.xls", data)})
        assert answer.status_code == 422 and words in answer.content.decode()
    assert not ArrivalFile.objects.for_firm(firm).exists()


def test_the_file_stays_as_it_came_and_is_handed_out_as_nothing_that_a_browser_runs(manager, send):
    file, _page = send(LOG)
    answer = manager.get(reverse("arrival_original", kwargs={"file": file.pk}))
    assert answer.getvalue() == LOG.encode()
    assert answer["Content-Type"] == "application/octet-stream"
    assert answer["Content-Disposition"].startswith("attachment")


def test_a_file_is_dropped_and_a_turn_that_is_under_way_tells_how_far_it_is(manager, send, firm):
    file, page = send(LOG)
    rows = ArrivalFile.objects.for_firm(firm)
    rows.update(state=State.TAKING, done=1, good=3)
    assert "1 of 3 rows are brought in." in shown(manager, page)
    rows.update(noted_at=file.at - 2 * ArrivalFile.SILENCE)
    words = shown(manager, page)
    assert "broken off after 1 of 3" in words and "Let it go on" in words
    manager.post(page, {"drop": "yes"})
    assert rows.count() == 1
    rows.update(state=State.SENT)
    manager.post(page, {"drop": "yes"})
    assert rows.count() == 0


@pytest.mark.parametrize("role", ["crew", "office", "inspector"])
def test_only_managers_bring_anything_in(manager, send, colleague, role):
    _file, page = send(LOG)
    colleague.role = role
    colleague.save()
    for answer in (manager.get(page), manager.post(page, {"read": "yes"}), manager.get(reverse("bring_in"))):
        assert answer.status_code == 403


def test_a_treatment_that_was_brought_in_says_so_and_where_it_is_from(manager, brought_in):
    words = shown(manager, reverse("treatment", kwargs={"uuid": brought_in[0].pk}))
    assert "Nobody signed it here." in words and "From the file log.csv, row 2; brought in by J. Quill" in words
    assert "Sample Moss Wash" in words and "4 mph" in words
    for never in ("Signed by", "Correct this record", "History", "Hand over this record", "version 1"):
        assert never not in words


def test_no_address_takes_what_was_brought_in_for_a_record_or_a_draft(manager, brought_in):
    old = brought_in[0]
    open_to = {}
    for name in our_names():
        if "uuid" in (where := address(name, old, old)) or name in OPEN_TO_ALL or name in ONLY_POSTED:
            continue
        if str(old.pk) in where and "/sites/" not in where:
            answer = manager.get(where)
            assert answer.status_code < 500, name
            open_to[name] = answer.status_code
    of_records = (
        "sign",
        "section",
        "record_file",
        "record_sheet",
        "check_sheet",
        "comparison",
    )
    assert {name: open_to[name] for name in of_records if open_to[name] == 200} == {}


def test_what_was_brought_in_is_changed_and_signed_by_nobody(manager, brought_in):
    old = brought_in[0]
    posts = {
        "section": {"notes": "x"},
        "sign": {"password": "x"},
        "correct": {"reason": "x"},
        "void": {"reason": "x"},
        "follow_up": {"kind": "note", "detail": "x"},
        "stand_down": {"why": "wind"},
    }
    for name, typed in posts.items():
        manager.post(address(name, old, old), typed)
    now = Treatment.objects.for_firm(old.firm).get(pk=old.pk)
    assert (now.state, now.document, now.revision) == (old.state, old.document, old.revision)
    assert not now.signed_records.exists()


def test_the_day_s_work_knows_nothing_of_what_was_brought_in(manager, brought_in, firm):
    Treatment.objects.for_firm(firm).update(day="2024-05-08")
    home = shown(manager, reverse("home"))
    assert all(each.number not in home for each in brought_in)
