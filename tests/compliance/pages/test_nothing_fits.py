"""A request that fits nothing signed is answered on paper: how the log was searched, and that nothing fits."""

import io
import json
from pathlib import Path
from zipfile import ZipFile

import pytest
from django.test import Client
from django.urls import reverse

from compliance.models import Handing, RequestAnswer
from compliance.request_bundle.folder import file_of
from compliance.services.handings import FitsByNowError, begin
from records.models import Treatment
from records.services.planning import plan_treatment
from tests.compliance.pages.test_hand_over import checked
from tests.compliance.pages.test_handings import GIVEN, made, where
from tests.compliance.pages.test_request_bundle import unpacked, words_of
from tests.compliance.pages.test_requests import SEARCH, manager, page_of, taken  # noqa: F401 - a fixture
from tests.project.test_addresses import signed  # noqa: F401 - a fixture

NOTHING = "?product=other+wash&day_from=2026-05-01&day_to=2026-07-31"


def address(asked) -> str:
    return reverse("answer_request", kwargs={"asked": asked.pk})


@pytest.fixture
def nothing(manager, signed):  # noqa: F811
    return taken(manager, NOTHING)


def answered(manager, asked, **given) -> Handing:  # noqa: F811
    return made(manager, asked, **{"withheld": [], **given})


def letter_of(handing: Handing, folder: Path) -> str:
    return words_of(unpacked(handing, folder) / "cover-letter.pdf")


def test_the_file_holds_a_letter_that_says_so_and_the_proof_and_no_record(nothing, manager, tmp_path):  # noqa: F811
    folder = unpacked(answered(manager, nothing), tmp_path / "b")
    letter = words_of(folder / "cover-letter.pdf")
    told = [
        "Answer to your request for records",
        "On September 16, 2026, 10:00, the log was searched for this: From day: May 1, 2026;",
        "To day: July 31, 2026",
        "Product or registration number: other wash",
        "Nothing that is signed fits.",
        "No record is enclosed.",
    ]
    assert [text for text in told if text not in letter] == []
    assert "sorry" not in letter
    named = {"cover-letter.pdf", "log.json", "keys.json", "verify_records.py", "README.txt", "SHA256SUMS"}
    assert {each.name for each in folder.iterdir()} - {"certificates"} == named


def test_it_holds_by_its_own_script_which_says_that_no_record_is_in_it(nothing, manager, tmp_path):  # noqa: F811
    folder = unpacked(answered(manager, nothing), tmp_path / "b")
    code, said = checked(folder)
    assert code == 0, said
    last = said.strip().splitlines()[-1]
    assert last.startswith("The bundle holds. No record is enclosed")
    assert "the newest head of the log (1 entries" in said
    letter = folder / "cover-letter.pdf"
    letter.write_bytes(letter.read_bytes() + b" ")
    assert checked(folder)[0] == 1


def test_a_record_that_lies_in_a_file_said_to_hold_none_fails(nothing, manager, tmp_path):  # noqa: F811
    folder = unpacked(answered(manager, nothing), tmp_path / "b")
    full = unpacked(made(manager, taken(manager, SEARCH)), tmp_path / "full")
    log = json.loads((full / "log.json").read_text()) | {"no_record": True}
    (full / "log.json").write_text(json.dumps(log))
    code, said = checked(full)
    assert code == 1
    assert "FAILS     log.json, no_record" in said
    assert json.loads((folder / "log.json").read_text())["no_record"] is True


def test_the_letter_in_spanish_says_what_fits_and_is_not_signed(nothing, manager, plan, member, tmp_path):  # noqa: F811
    draft = plan_treatment(plan.site.firm, member.user, plan)
    rows = Treatment.objects.for_firm(plan.site.firm).filter(pk=draft.pk)
    asked = taken(manager, "?customer=marlowe&state=draft")
    letter = letter_of(answered(manager, asked, language="es"), tmp_path / "b")
    assert "Nada de lo firmado corresponde." in letter
    assert "Tratamientos hasta hoy que corresponden y que nadie ha firmado: 1." in letter
    assert "Solo se incluye" not in letter
    rows.update(state="brought-in")
    asked = taken(manager, "?customer=marlowe&state=brought-in")
    letter = letter_of(answered(manager, asked, language="es"), tmp_path / "c")
    assert "Registros traídos de archivos anteriores: 1." in letter


def test_of_a_part_that_is_left_out_the_letter_tells_no_search(manager, signed, tmp_path):  # noqa: F811
    asked = taken(manager, "?customer=nobody+here&day_from=2026-05-01")
    letter = letter_of(answered(manager, asked, withheld=["customer"]), tmp_path / "b")
    assert "Customer: left out" in letter
    assert "nobody here" not in letter
    assert "From day: May 1, 2026" in letter


def test_the_page_before_it_says_that_nothing_fits_and_asks_for_no_sheets(nothing, manager):  # noqa: F811
    assert address(nothing) in page_of(manager, nothing).content.decode()
    answer = manager.get(address(nothing))
    page = answer.content.decode()
    assert "Nothing that is signed fits" in page
    assert "No record is in it" in page
    assert set(answer.context["form"].fields) == {"to", "how", "language", "withheld"}
    told_of = [name for name, _label in answer.context["form"].fields["withheld"].choices]
    assert told_of == ["customer", "site", "people", "weather", "incidents"]
    refused = manager.post(address(nothing), GIVEN | {"to": "", "withheld": []})
    assert (refused.status_code, set(refused.context["form"].errors)) == (422, {"to"})


def test_it_is_kept_as_handed_over_by_file_or_link_and_the_request_shows_it(nothing, manager, firm):  # noqa: F811
    handing = answered(manager, nothing, sheets=["en"], photos=["named"])
    assert (handing.state, handing.treatments, handing.sheets, handing.photos) == ("ready", [], [], False)
    page = manager.get(where(handing)).content.decode()
    assert "No record is in it" in page
    assert "index.pdf" not in page
    file = manager.post(where(handing), {"take": "yes"}).getvalue()
    answer = RequestAnswer.objects.for_firm(firm).get()
    assert (answer.treatments, answer.size, answer.digest) == ([], len(file), handing.digest)
    shown = page_of(manager, nothing).content.decode()
    assert answer.digest in shown
    assert "no record: nothing fitted" in shown
    linked = answered(manager, nothing)
    there = {"asked": linked.request_id, "handing": linked.pk}
    link = manager.post(reverse("handing_link", kwargs=there), {"days": "3"})
    at = link.context["where"].removeprefix("http://testserver")
    fetched = Client().post(at, {"code": link.context["code"]}).getvalue()
    assert "cover-letter.pdf" in ZipFile(io.BytesIO(fetched)).namelist()
    assert RequestAnswer.objects.for_firm(firm).count() == 2


def test_the_file_after_it_says_what_is_new_since(nothing, manager, signed, tmp_path):  # noqa: F811
    first = answered(manager, nothing)
    manager.post(where(first), {"take": "yes"}).getvalue()
    again = answered(manager, nothing)
    assert "New records: 0. New versions: 0." in letter_of(again, tmp_path / "again")
    nothing.wanted = {"product": "sample moss wash"}
    nothing.save()
    second = made(manager, nothing)
    assert "New records: 1. New versions: 0." in letter_of(second, tmp_path / "second")
    assert f"new record,{signed.number}," in (tmp_path / "second/changes.csv").read_text("utf-8-sig")


def test_where_nothing_was_ever_signed_there_is_no_log_to_search(manager, firm, colleague):  # noqa: F811
    asked = taken(manager, NOTHING)
    assert address(asked) in page_of(manager, asked).content.decode()
    answer = manager.post(address(asked), GIVEN | {"withheld": []})
    assert (answer.status_code, set(answer.context["form"].errors)) == (422, {"__all__"})
    assert "Nothing was ever signed" in answer.content.decode()
    assert not Handing.across_firms.exists()


def test_what_was_signed_meanwhile_is_not_answered_with_nothing(manager, signed, colleague):  # noqa: F811
    asked = taken(manager, SEARCH)
    with pytest.raises(FitsByNowError):
        begin(asked, colleague.user, [], to="M. Reyes", how="by e-mail", withheld=[], language="en")
    assert not Handing.across_firms.exists()


def test_a_turn_that_failed_goes_by_the_log_as_it_was_searched(nothing, manager, tmp_path):  # noqa: F811
    handing = answered(manager, nothing)
    size = handing.log_size
    Handing.across_firms.update(state="failed")
    manager.post(where(handing), {"again": "yes"})
    handing.refresh_from_db()
    assert (handing.state, handing.log_size) == ("ready", size)
    assert file_of(handing).exists()
