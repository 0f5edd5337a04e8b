"""Records are handed over as a file that anyone can check, without what the manager left out, and on record."""

import io
import subprocess
import sys
from zipfile import ZipFile

import pytest
from django.core.management import call_command
from django.urls import reverse
from pypdf import PdfReader

from compliance.services import drawn_sheets
from records.forms.hand_over import HandOverForm
from records.models import AuditEntry, Treatment
from records.services import handing_over
from records.services.corrections import start_correction
from records.services.signing import void
from records.services.to_sign import Signer
from tests.compliance.papers.pdf import drawn_part
from tests.project.test_addresses import signed  # noqa: F401 - a fixture
from tests.records.auditing.entries import newest
from tests.records.logged import sign_now


@pytest.fixture
def manager(client, colleague):
    client.force_login(colleague.user)
    return client


def one(treatment: Treatment) -> str:
    return reverse("hand_over_one", kwargs={"uuid": treatment.pk})


def unpacked(answer, folder):
    assert answer.status_code == 200
    ZipFile(io.BytesIO(answer.getvalue())).extractall(folder)
    return folder


def checked(folder) -> tuple[int, str]:
    command = [sys.executable, "-I", str(folder / "verify_records.py")]
    ran = subprocess.run(command, cwd="/", capture_output=True, text=True, check=False, env={})
    return ran.returncode, ran.stdout + ran.stderr


def attached(pdf: bytes) -> str:
    """The data that lie in a sheet."""
    ((_name, (data,)),) = PdfReader(io.BytesIO(pdf)).attachments.items()
    return data.decode()


def test_what_is_handed_over_holds_and_withholds_what_was_ticked(manager, signed, firm, tmp_path):  # noqa: F811
    answer = manager.post(one(signed), {"withheld": ["customer", "people", "site"], "sheets": ["en"]})
    assert answer.headers["Content-Disposition"] == f'attachment; filename="record-{signed.number}.zip"'
    folder = unpacked(answer, tmp_path / "b")
    code, said = checked(folder)
    assert code == 0, said
    assert f"withheld  {signed.number} version 1, customer" in said
    assert f"withheld  {signed.number} version 1, check by the rules" in said
    assert "holds     sheets/" in said
    (pdf,) = folder.glob("sheets/*.pdf")
    sheet = "".join(page.extract_text() for page in PdfReader(pdf).pages)
    for text in [*(path.read_text() for path in folder.rglob("*.json")), sheet, attached(pdf.read_bytes())]:
        assert "A. Marlowe" not in text
        assert "Heron Row" not in text


def test_a_record_sheet_in_it_is_the_one_that_is_downloaded(manager, signed, tmp_path):  # noqa: F811
    folder = unpacked(manager.post(one(signed), {"sheets": ["en", "es"]}), tmp_path / "b")
    for language in ("en", "es"):
        kwargs = {"uuid": signed.pk, "version": 1, "language": language}
        downloaded = manager.get(reverse("record_sheet", kwargs=kwargs)).content
        handed_over = (folder / f"sheets/{signed.number}-v1-{language}.pdf").read_bytes()
        assert drawn_part(handed_over) == drawn_part(downloaded)
        assert attached(handed_over) == attached(downloaded)


def test_it_is_on_record_who_took_out_what_and_what_they_left_out(manager, signed, firm, colleague):  # noqa: F811
    assert manager.post(one(signed), {"withheld": ["people"]}).getvalue()
    entry = newest(firm)
    assert (entry.kind, entry.by, entry.reason) == ("exported", colleague.user, "bundle")
    assert entry.thing_name.startswith(signed.number)
    page = manager.get(reverse("audit"), {"kind": "exported"}).content.decode()
    assert "handed over with its proof" in page
    assert "left out" in page
    assert "People" in page


def test_every_version_that_is_handed_over_stands_in_who_did_what(manager, signed, firm, colleague):  # noqa: F811
    signed.refresh_from_db()
    void(signed, "the neighbour's roof", Signer(colleague.user))
    assert manager.post(one(signed), {}).getvalue()
    taken = AuditEntry.objects.for_firm(firm).filter(kind="exported", reason="bundle")
    assert {entry.thing_name for entry in taken} == {f"{signed.number}, 1", f"{signed.number}, 2"}


def test_nothing_leaves_that_can_t_be_noted(manager, signed, monkeypatch):  # noqa: F811
    def broken(self, *_args, **_kwargs):
        raise RuntimeError("the disk is full")

    manager.raise_request_exception = False
    monkeypatch.setattr("records.services.handing_over.entry_of", broken)
    assert manager.post(one(signed)).status_code == 500


def test_what_the_register_has_found_is_handed_over_and_no_more(manager, signed, draft, tmp_path):  # noqa: F811
    where = reverse("hand_over")
    page = manager.get(where, {"customer": "marlowe"}).content.decode()
    assert "One treatment with a signed record" in page
    folder = unpacked(manager.post(f"{where}?customer=marlowe"), tmp_path / "b")
    assert [path.name for path in folder.glob("records/*")] == [f"{signed.number}-v1.json"]
    assert checked(folder)[0] == 0
    assert manager.post(f"{where}?customer=nobody").status_code == 422
    assert manager.get(where, {"day_from": "yesterday"}).status_code == 302


def test_what_is_signed_in_the_meantime_goes_with_the_next_file(manager, signed, member, tmp_path, monkeypatch):  # noqa: F811
    """A correction comes in after the head was read, and while papers are drawn."""
    drawn = drawn_sheets.drawn_sheet

    def meanwhile(record, file, language):
        signed.refresh_from_db()
        start_correction(signed, member.user, "the lot was misread")
        sign_now(signed, member)
        return drawn(record, file, language)

    monkeypatch.setattr(drawn_sheets, "drawn_sheet", meanwhile)
    folder = unpacked(manager.post(one(signed), {"sheets": ["en"]}), tmp_path / "b")
    assert [path.name for path in folder.glob("records/*")] == [f"{signed.number}-v1.json"]
    assert checked(folder)[0] == 0


def test_more_than_can_be_drawn_at_once_is_refused_in_a_sentence(manager, signed, monkeypatch):  # noqa: F811
    monkeypatch.setattr("records.pages.hand_over.MOST_WITH_SHEETS", 0)
    asked = ({"sheets": ["en"]}, {"photos": ["named"]})
    answers = [manager.post(reverse("hand_over"), each) for each in asked]
    assert [answer.status_code for answer in answers] == [422, 422]
    assert "0 with record sheets or photos. Search for fewer." in answers[0].content.decode()


@pytest.mark.parametrize("role", ["crew", "office", "inspector"])
def test_only_managers_hand_over(client, signed, member, role):  # noqa: F811
    member.role = role
    member.save()
    client.force_login(member.user)
    for where in (one(signed), reverse("hand_over")):
        assert client.post(where).status_code == 403
    assert "Hand over" not in client.get(reverse("register")).content.decode()


def test_another_firms_record_is_not_there(client, signed, stranger):  # noqa: F811
    client.force_login(stranger.user)
    assert client.post(one(signed)).status_code == 404
    assert client.post(reverse("hand_over")).status_code == 422


def run(capsys, *arguments: str) -> tuple[int, str]:
    try:
        call_command("write_bundle", *arguments)
    except SystemExit as ended:
        return ended.code, capsys.readouterr().err
    return 0, capsys.readouterr().err


def test_the_command_writes_one_record_and_notes_it(signed, firm, tmp_path, capsys):  # noqa: F811
    out = tmp_path / "out.zip"
    arguments = ["--record", signed.number, "--withhold", "customer", "site", "--output", str(out)]
    assert run(capsys, str(firm.pk), *arguments) == (0, "")
    ZipFile(out).extractall(tmp_path / "b")
    code, said = checked(tmp_path / "b")
    assert code == 0
    assert f"withheld  {signed.number} version 1, site" in said
    entry = newest(firm)
    assert (entry.kind, entry.by, entry.page) == ("exported", None, "write_bundle")
    assert run(capsys, str(firm.pk), *arguments) == (2, f"{out} is there already.\n")


@pytest.mark.parametrize(
    ("options", "kept"),
    [
        ([], {"customer", "incidents"}),
        (["--with-notices"], {"customer", "incidents", "notices"}),
        (["--withhold", "customer"], set()),
        (["--withhold", "customer", "--with-notices"], set()),
    ],
)
def test_the_command_leaves_out_what_the_page_does(signed, firm, tmp_path, capsys, monkeypatch, options, kept):  # noqa: F811
    asked = []
    monkeypatch.setattr(handing_over, "write_bundle", lambda *given, **_more: asked.append(given[3]))
    assert run(capsys, str(firm.pk), *options, "--output", str(tmp_path / "out.zip")) == (0, "")
    assert {"customer", "incidents", "notices"} - asked[0] == kept
    noted = newest(firm).changes
    assert (noted["withheld"][0]["new"] if noted else []) == sorted(asked[0])


def test_the_command_refuses_what_is_not_there_and_writes_nothing(signed, firm, stranger, tmp_path, capsys):  # noqa: F811
    out = str(tmp_path / "out.zip")
    assert run(capsys, "nobody", "--output", out) == (2, "There is no firm nobody.\n")
    assert run(capsys, str(firm.pk), "--record", "9-9", "--output", out) == (2, "The firm has no record 9-9.\n")
    assert run(capsys, str(stranger.firm.pk), "--output", out) == (2, "Nothing of this is signed.\n")
    assert run(capsys, str(firm.pk), "--output", f"{tmp_path}/no/out.zip")[0] == 2
    assert list(tmp_path.glob("*.zip*")) + list(tmp_path.glob(".*")) == []


@pytest.mark.parametrize("ask", ["get", "post"])
def test_a_word_that_nothing_is_searched_by_hands_over_nothing_and_says_so(manager, signed, ask):  # noqa: F811
    where = reverse("hand_over")
    for query in ("anything=x", "custmer=marlowe&day_from=2026-01-01"):
        answer = getattr(manager, ask)(f"{where}?{query}")
        assert answer.status_code == 400
        assert "nothing is handed over" in answer.text
    assert manager.post(f"{where}?day_from=yesterday").status_code == 400


def test_where_the_customer_is_left_out_so_is_what_may_name_them():
    assert HandOverForm({"withheld": ["people"]}).is_valid()
    form = HandOverForm({"withheld": ["customer"]})
    assert form.is_valid()
    assert set(form.cleaned_data["withheld"]) == {"customer", "notices", "incidents"}
