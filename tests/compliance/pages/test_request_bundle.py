"""What lies in a bundle for a request: letter, index, tables, labels, schemas, notices, findings, changes."""

import csv
import io
import json
import re
import zlib
from datetime import timedelta
from pathlib import Path
from types import SimpleNamespace
from zipfile import ZipFile

import pytest
from jsonschema import Draft202012Validator
from pypdf import PdfReader

from compliance.models import Handing, StoredCheck
from compliance.request_bundle.folder import file_of
from compliance.request_bundle.index_lines import site_said
from compliance.request_bundle.searched import searched
from compliance.request_bundle.still_named import named_there, names_left_out
from compliance.request_bundle.table_files import as_csv, names_of
from compliance.request_bundle.tables import TABLES
from records.models import SignedRecord, Treatment
from records.outbox.queueing import queue
from records.services.corrections import start_correction
from records.services.follow_ups import sign_follow_up
from records.services.planning import plan_treatment
from records.services.to_sign import Signer
from shared import clock
from tests.compliance.own import CALM, use_own
from tests.compliance.pages.test_hand_over import checked
from tests.compliance.pages.test_handings import made, where
from tests.compliance.pages.test_requests import NOW, SEARCH, manager, moved, taken  # noqa: F401 - a fixture
from tests.project.test_addresses import signed  # noqa: F401 - a fixture
from tests.records.logged import sign_now
from tests.records.outbox.pieces import piece
from tests.records.test_photos_in_a_bundle import shown  # noqa: F401 - a fixture


def unpacked(handing, folder: Path) -> Path:
    ZipFile(file_of(handing)).extractall(folder)
    return folder


def table(folder: Path, name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO((folder / f"tables/{name}.csv").read_text("utf-8-sig"))))


def words_of(path: Path) -> str:
    return " ".join("".join(page.extract_text() for page in PdfReader(path).pages).split())


@pytest.fixture
def bundle(manager, signed, tmp_path) -> Path:  # noqa: F811
    return unpacked(made(manager, withheld=[], sheets=["en"], findings=["rules"]), tmp_path / "b")


def test_it_holds_and_is_described_in_its_letter_and_index(bundle, signed):  # noqa: F811
    code, said = checked(bundle)
    assert code == 0, said
    letter, index = words_of(bundle / "cover-letter.pdf"), words_of(bundle / "index.pdf")
    day = "September 14, 2026"
    told = ["M. Reyes, Department of Samples", "Every application of Sample Moss Wash", "RCW 17.21.100(4)(a)"]
    told += [f"Treatments: 1. Signed versions: 1. Days: from {day} to {day}.", "Nothing is left out"]
    assert [text for text in told if text not in letter] == []
    listed = [signed.number, "Sample Moss Wash (99999-", "4 Heron Row", f"records/{signed.number}-v1.json"]
    assert [text for text in listed if text not in index] == []
    outline = PdfReader(bundle / "index.pdf").outline
    assert [each.title for each in outline if not isinstance(each, list)] == ["September 2026"]
    assert [each.title for each in outline[1]] == [f"{signed.number} v1"]


def test_the_tables_say_what_the_records_say_and_the_dictionary_what_each_column_is(bundle, signed):  # noqa: F811
    (row,) = table(bundle, "treatments")
    assert (row["number"], row["version"], row["state"]) == (signed.number, "1", "holds")
    assert (row["customer"], row["site_line1"], row["day"]) == ("A. Marlowe", "4 Heron Row", "2026-09-14")
    (row,) = table(bundle, "products")
    assert (row["amount"], row["amount_unit"], row["label_in_force"]) == ("1.5", "gal", "yes")
    assert row["active_ingredients"] == "invented active 38 % w/w"
    assert json.loads((bundle / row["label_file"]).read_text())["label"]["version"] == "2025-03"
    (row,) = table(bundle, "licences-of-people")
    assert (row["person"], row["licence_number"], row["valid_on_the_day"]) == ("R. Osei", "CO-00231", "yes")
    assert row["number"] == signed.number
    told = {(each["table"], each["column"]) for each in table(bundle, "README")}
    for path in bundle.glob("tables/*.csv"):
        if path.name != "README.csv":
            names = next(csv.reader(io.StringIO(path.read_text("utf-8-sig"))))
            assert len(names) == len(set(names)), path.name
            assert {(path.name, name) for name in names} <= told
    assert ("changes.csv", "what") in told
    meanings = {each["column"]: each["meaning"] for each in table(bundle, "README")}
    assert meanings["replaces_version"] == "which version it replaces"


def test_the_records_are_as_their_schema_says(manager, signed, member, tmp_path):  # noqa: F811
    sign_follow_up(signed, Signer(member.user), kind="note", at=NOW, detail="rinsed again")
    bundle = unpacked(made(manager), tmp_path / "b")
    schema = json.loads((bundle / "schema/record-file.json").read_text())
    Draft202012Validator.check_schema(schema)
    for path in bundle.glob("records/*.json"):
        Draft202012Validator(schema).validate(json.loads(path.read_text()))


def test_findings_go_along_with_their_rules_as_they_stood_only_where_that_was_chosen(bundle, manager, signed):  # noqa: F811
    (found,) = bundle.glob("findings/*.json")
    findings = json.loads(found.read_text())["findings"]
    assert {each["layer"] for each in findings} <= {"law", "label"}
    assert any(each["outcome"] == "not_met" and each["message"] for each in findings)
    rules = json.loads(next(bundle.glob("findings/rules/us-wa-*.json")).read_text())
    assert "RCW 17.21.100" in json.dumps(rules)
    names = ZipFile(file_of(made(manager))).namelist()
    assert [name for name in names if name.startswith("findings/")] == []


def test_what_is_left_out_is_in_no_byte_of_it(manager, done, member, signed, tmp_path):  # noqa: F811
    queue(signed, [piece(to="customer", name="A. Marlowe", text="Dear A. Marlowe, we come.")], member.user)
    withheld = ["customer", "site", "insurance"]
    handing = made(manager, withheld=withheld[:2], sheets=["en", "es"], findings=["rules"], photos=["named"])
    folder = unpacked(handing, tmp_path / "b")
    code, said = checked(folder)
    assert code == 0, said
    assert f"withheld  {signed.number} version 1, customer" in said
    secrets = ("marlowe", "heron row")
    assert [where_ for where_ in in_all_bytes(folder) if any(each in where_[1] for each in secrets)] == []
    assert handing.named_still == {}
    assert "No photos: a picture may show the site or the customer" in words_of(folder / "cover-letter.pdf")
    assert "of which one is left out" in manager.get(where(handing)).content.decode()


def test_the_letter_says_how_the_log_was_searched_and_what_fits_and_is_not_enclosed(
    manager,  # noqa: F811
    signed,  # noqa: F811
    plan,
    member,
    tmp_path,
):
    drafts = [plan_treatment(plan.site.firm, member.user, plan) for _ in range(3)]
    later = Treatment.objects.for_firm(plan.site.firm).filter(pk=drafts[0].pk)
    later.update(day=NOW.date() + timedelta(days=9))  # only planned
    Treatment.objects.for_firm(plan.site.firm).filter(pk=drafts[1].pk).update(state="brought-in")
    asked = taken(manager, SEARCH + "&customer=marlowe")
    told = {}
    for name, withheld in (("all", []), ("no customer", ["customer"])):
        folder = unpacked(made(manager, asked, withheld=withheld), tmp_path / name)
        told[name] = words_of(folder / "cover-letter.pdf")
    days = "From day: May 1, 2026; To day: Sept. 30, 2026"
    assert f"We searched our log for this: {days}; Customer: marlowe;" in told["all"]
    assert "Treatments up to today that nobody has signed: 1." in told["all"]
    assert "Records that were brought in from older files: 1." in told["all"]
    assert "Customer: left out;" in told["no customer"]
    assert "marlowe" not in told["no customer"].casefold()


def test_of_the_house_s_own_findings_the_letter_tells_only_where_they_go_along(manager, signed):  # noqa: F811
    handing = made(manager)
    handing.request.wanted = {"outcome": "not_met", "product": "moss"}
    handing.findings, handing.language = False, "es"
    assert dict(searched(handing)) == {
        "Producto o número de registro": "moss", "Resultado de la comprobación": "",
    }  # fmt: skip
    handing.findings = True
    assert dict(searched(handing))["Resultado de la comprobación"] == "No se cumple"


@pytest.fixture
def house_rule(firm):
    with clock.at(NOW - timedelta(days=30)):
        use_own(firm, CALM)


def test_beside_findings_neither_a_digest_without_salt_nor_the_county_tells_what_is_left_out(
    house_rule,
    manager,  # noqa: F811
    signed,  # noqa: F811
    firm,
    tmp_path,
):
    packs = StoredCheck.objects.for_firm(firm).get().stored["packs"]
    assert "firm" in {each["pack"] for each in packs}
    county, whole = "Quill County", SignedRecord.objects.for_firm(firm).get().document_digest
    told = {}
    for name, withheld in (("all", []), ("no site", ["site"]), ("no customer", ["customer"])):
        handing = made(manager, withheld=withheld, findings=["rules"], photos=[])
        texts = [text for _name, text in in_all_bytes(unpacked(handing, tmp_path / name))]
        told[name] = [any(each.casefold() in text for text in texts) for each in (county, whole)]
    assert told == {"all": [True, True], "no site": [False, False], "no customer": [True, False]}
    (found,) = (tmp_path / "all/findings").glob("*.json")
    assert {each["pack"] for each in json.loads(found.read_text())["packs"]} == {"everywhere", "us", "us-wa"}


def test_the_letter_names_photos_where_they_are_in_it_and_says_why_they_are_not(manager, shown, tmp_path):  # noqa: F811
    told = {}
    for name, also in (("in", {}), ("withheld", {"withheld": ["protection"]}), ("not asked", {"photos": []})):
        folder = unpacked(made(manager, **{"photos": ["named"], **also}), tmp_path / name)
        told[name] = words_of(folder / "cover-letter.pdf")
        listed = "photos, named by their digests" in told[name]
        assert (folder / "photos").exists() == listed == (name == "in")
    assert "The photos that the records name." in told["in"]
    assert "No photos: none that the records name in what is enclosed" in told["withheld"]
    assert "Photos are not enclosed." in told["not asked"]


def in_all_bytes(folder: Path):
    """Each file's name with all that is in it, opened as far as it can be, folded."""
    for path in folder.rglob("*"):
        if path.is_file():
            data = path.read_bytes()
            text = f"{path.name} {data.decode('utf-8', 'replace')}"
            if path.suffix == ".pdf":
                text += words_of(path) + str(PdfReader(path).metadata)
                for stream in re.findall(rb"stream\r?\n(.*?)endstream", data, re.DOTALL):
                    opened = zlib.decompressobj()
                    try:
                        text += opened.decompress(stream).decode("utf-8", "replace")
                    except zlib.error:
                        text += stream.decode("latin-1")
            yield path.name, text.casefold()


def test_where_a_name_that_was_left_out_stands_all_the_same_is_said(manager, signed):  # noqa: F811
    handing = made(manager, withheld=["people"])
    once = {"versions": 1, "first": [[str(signed.pk), 1]]}
    assert handing.named_still == {"signatures": once, "record": once}
    page = manager.get(where(handing)).content.decode()
    assert "stands elsewhere in it all the same" in page
    assert "signatures: in one version" in page.lower()
    assert f"{signed.number} v1</a>: “R. Osei”" in page


def test_the_index_says_an_address_once_where_the_place_is_named_by_it():
    address = {"line1": "4 Heron Row", "city": "Port Quill"}
    for name, said in (("House, 4 Heron Row", "House, 4 Heron Row"), ("4 Heron Row", "4 Heron Row")):
        file = {"sections": {"site": {"name": name, "address": address}}, "record": {}}
        assert site_said(SimpleNamespace(file=file)) == f"{said}, Port Quill"


def test_who_was_told_and_is_handed_over_as_the_customer_was_not_left_out():
    sections = {
        "customer": {"name": "A. Marlowe", "email": "a@example.com"},
        "site": {"name": "Marlowe yard, by B. Lark"},
        "notices": [{"to": "customer", "name": "A. Marlowe"}, {"to": "neighbour", "name": "B. Lark"}],
    }
    assert set(names_left_out(sections, {"notices"})) == {"b. lark"}
    assert set(names_left_out(sections, {"customer", "notices"})) == {"a. marlowe", "a@example.com", "b. lark"}


def test_a_name_that_was_left_out_is_found_where_it_stands_without_its_accents():
    sections = {"customer": {"name": "Luis Villaseñor"}}
    file = {"sections": {**sections, "site": {"name": "Casa  LUIS VILLASENOR"}}, "record": {}}
    names = names_left_out(sections, {"customer"})
    assert named_there(names, file, "site") == ["Luis Villaseñor"]


def test_notices_go_along_as_they_went_out_and_of_neighbours_a_digest_alone(manager, signed, member, tmp_path):  # noqa: F811
    pieces = [
        piece(to="customer", name="A. Marlowe", subject="Your roof", text="We come on Monday."),
        piece(to="neighbour", name="B. Lark", text="We spray next door."),
    ]
    queue(signed, pieces, member.user)
    folder = unpacked(made(manager, withheld=[]), tmp_path / "b")
    (stated,) = [each for each in TABLES if each.name == "notices"]
    assert (folder / "tables/notices.csv").read_bytes() == b"".join(as_csv([names_of(stated)]))
    rows = {row["to"]: row for row in table(folder, "notices-sent")}
    assert len(table(folder, "notices-sent")) == 2
    assert rows["customer"]["name"] == "A. Marlowe"
    assert "We come on Monday." in (folder / rows["customer"]["file"]).read_text()
    assert (rows["neighbour"]["name"], rows["neighbour"]["file"]) == ("", "")
    assert rows["neighbour"]["digest"] == signed.notices.get(to="neighbour").digest
    assert [name for name, text in in_all_bytes(folder) if "b. lark" in text or "next door" in text] == []


def test_the_letter_says_that_notices_stay_out_where_they_name_what_is_left_out(manager, signed, tmp_path):  # noqa: F811
    said = "Notices as they went out, and what became of each, are not enclosed"
    for number, withheld in enumerate(([], ["people"], ["weather"], ["notices"])):
        folder = unpacked(made(manager, withheld=withheld), tmp_path / str(number))
        assert (said in words_of(folder / "cover-letter.pdf")) == (withheld in (["people"], ["notices"]))


def test_a_first_bundle_names_what_was_corrected_away_or_signed_late(moved, manager, signed, member, tmp_path):  # noqa: F811
    sign_follow_up(signed, Signer(member.user), kind="note", at=NOW, detail="rinsed again")
    folder = unpacked(made(manager, moved), tmp_path / "b")
    assert {row["name"] for row in table(folder, "products")} == {"Sample Moss Wash", "Other Wash"}
    letter = words_of(folder / "cover-letter.pdf")
    told = [f"{signed.number}, version 2, Sep 16, 2026, 10:00: it was the other can. As it stood before it"]
    told += [f"Signed for the first time after your request came {signed.number}, version 1,"]
    told += [f"Follow-ups signed after your request came {signed.number}, version 2, Sep 16, 2026, 10:00: note"]
    assert [text for text in told if text not in letter] == []


def test_a_second_bundle_says_what_has_changed_since_the_first(manager, signed, colleague, tmp_path):  # noqa: F811
    asked = taken(manager)
    first = made(manager, asked)
    again = ZipFile(file_of(made(manager, asked))).namelist()
    assert "changes.csv" not in again, "the first was handed to nobody"
    manager.post(where(first), {"take": "yes"}).getvalue()
    sign_now(start_correction(signed, colleague.user, "the lot was misread"), colleague)
    second = made(manager, asked)
    folder = unpacked(second, tmp_path / "b")
    assert checked(folder)[0] == 0
    rows = list(csv.DictReader(io.StringIO((folder / "changes.csv").read_text("utf-8-sig"))))
    told = [(row["what"], row["number"], row["version"]) for row in rows]
    assert told == [("new version", signed.number, "2")]
    letter = words_of(folder / "cover-letter.pdf")
    assert "New records: 0. New versions: 1." in letter
    assert first.digest in letter.replace(" ", "")
    assert "Corrected after your request came" in letter
    assert "the lot was misread" in letter
    states = {row["version"]: row["state"] for row in table(folder, "treatments")}
    assert states == {"1": "replaced by version 2", "2": "holds"}


def test_while_a_correction_is_signed_all_parts_go_by_one_head_of_the_log(manager, signed, colleague, tmp_path):  # noqa: F811
    handing = made(manager, sheets=["en"])
    sign_now(start_correction(signed, colleague.user, "the lot was misread"), colleague)
    Handing.across_firms.update(state="failed")
    manager.post(where(handing), {"again": "yes"})
    folder = unpacked(handing, tmp_path / "b")
    assert checked(folder)[0] == 0
    (form,) = folder.glob("forms/*.pdf")
    (row,) = table(folder, "treatments")
    assert (row["version"], row["state"]) == ("1", "holds")
    assert row["digest"] in words_of(form).replace(" ", "")
    (sheet,) = folder.glob("sheets/*.pdf")
    assert "misread" not in words_of(form) + words_of(sheet)
