"""An erasure is signed and in the log; what went otherwise, or by one that must not have been, is named."""

import json
from datetime import timedelta
from zipfile import ZipFile

import pytest
from django.core.management import call_command
from django.db import connection

from records.bundle import verify_records
from records.bundle.writer import write_bundle
from records.document.erasure import erasure
from records.document.personal import PERSONAL
from records.document.signatures import plain_signature
from records.log_check import look_at_log
from records.models import Erasure, Treatment
from records.services.holds import hold
from records.services.keys import signing_key
from records.services.log import append
from shared import clock
from shared.canonical import canonical_bytes
from shared.digests import digest
from shared.merkle import leaf_hash
from tests.records.logged import by_sql
from tests.records.services.erasing import AFTER, SET_LINES, THEN, UNDER, UNTIL, erased, lines_without, witness
from tests.records.test_bundle import change, failing, unpacked


def test_the_log_still_holds_and_says_what_was_erased_when_and_under_which_rule(signed, capsys):
    name = signed.number
    erased(signed)
    looked = look_at_log(signed.firm)
    assert looked.broken == []
    assert [each.whose for each in looked.erased] == [f"{name} v1", f"{name} v2"]
    with pytest.raises(SystemExit) as ended:
        call_command("verify_log")
    said = capsys.readouterr().out
    assert ended.value.code == 0
    assert f"erased  {name} v1: customer, notes, people, site, " in said
    assert "on 2028-09-15 under us-wa/retention/seven-years" in said


def test_a_section_that_was_taken_out_without_an_erasure_is_named(signed):
    by_sql(f"{SET_LINES} WHERE version = 1", lines_without(signed, "notes"))
    assert ("log/section_gone", "notes") in [
        (each.fault.wording, each.fault.blanks["section"]) for each in look_at_log(signed.firm).broken
    ]


def test_a_bundle_with_an_erased_record_verifies_and_says_so(signed, tmp_path, monkeypatch, capsys):
    erased(signed)
    with (tmp_path / "bundle.zip").open("wb") as out:
        write_bundle(signed.firm, [signed.pk], out)
    with ZipFile(tmp_path / "bundle.zip") as archive:
        archive.extractall(tmp_path / "bundle")
    monkeypatch.setattr("sys.argv", ["verify_records.py", str(tmp_path / "bundle")])
    assert verify_records.main() == 0
    said = capsys.readouterr().out
    assert "customer: erased on 2028-09-15 under us-wa/retention/seven-years, kept until 2028-09-14" in said


def erased_bundle(treatment, folder):
    erased(treatment)
    return unpacked(treatment.firm, treatment, folder)


def shortened(log):
    """The term of the erasure, as if it had ended on the day of the erasing."""
    log["erasures"][0]["statement"]["kept_until"] = "2028-09-15"


@pytest.mark.parametrize(
    ("forge", "said"),
    [
        (lambda log: log.update(erasures=[]), "customer: it is said to be erased, and no signed entry"),
        (shortened, "after its term: it was erased within the term that it states"),
        (lambda log: log["erasures"][0].update(index=1), "the log does not hold these bytes at that place"),
        (
            lambda log: log["erasures"][0]["statement"].update(under=["another"]),
            "signature by the service: what was signed, or the signature, was changed",
        ),
    ],
)
def test_an_erasure_in_a_bundle_that_the_log_does_not_vouch_for_fails(signed, tmp_path, forge, said):
    folder = erased_bundle(signed, tmp_path / "bundle")
    change(folder, "log.json", forge)
    assert any(said in line for line in failing(folder))


def wordings(treatment: Treatment) -> set[str]:
    return {one.fault.wording for one in look_at_log(treatment.firm).broken}


def test_an_erasure_is_signed_and_an_entry_of_the_log(signed):
    erased(signed)
    row = Erasure.objects.for_firm(signed.firm).get()
    stated = json.loads(bytes(row.record))
    assert (stated["schema"], stated["treatment"], stated["under"]) == ("erasure/1", str(signed.pk), UNDER)
    assert (stated["on"], stated["kept_until"], stated["by"]) == ("2028-09-15", "2028-09-14", None)
    assert stated["sections"] == sorted(PERSONAL)
    assert bytes(row.entry.leaf) == leaf_hash(bytes(row.record))
    assert row.entry.index == 2


def test_sections_that_went_by_a_row_that_nobody_signed_are_named(signed):
    """One INSERT and one UPDATE, within the term, with all triggers standing."""
    witness(signed)
    with connection.cursor() as cursor:
        cursor.execute(f"{SET_LINES} WHERE version = 1", [lines_without(signed, "customer", "site")])
    assert "log/erasure_unsigned" in wordings(signed)


def restate(treatment: Treatment, **other: object) -> None:
    """An erasure as who holds the firm's key can sign it, and enter it."""
    _row, private = signing_key(treatment.firm)
    said = {"kept_until": UNTIL, "under": UNDER, "on": AFTER, "by": None, "at": THEN}
    changed = {name: value for name, value in other.items() if name in said}
    stated = erasure(str(treatment.firm_id), str(treatment.pk), **said | changed, private=private)
    if "sections" in other:
        stated = {name: part for name, part in stated.items() if name != "signatures"}
        stated["sections"] = other["sections"]
        stated["signatures"] = [plain_signature(stated, private)]
    data = canonical_bytes(stated)
    row = Erasure.objects.create(
        firm=treatment.firm, treatment=treatment, sections=stated["sections"],
        kept_until=other.get("kept", UNTIL), under=UNDER, on=AFTER, at=THEN, record=data, digest=digest(data),
    )  # fmt: skip
    with clock.at(THEN):
        append(treatment.firm, row, private)


@pytest.mark.parametrize(
    ("other", "why"),
    [
        ({"on": UNTIL}, "log/erasure_other"),
        ({"at": THEN - timedelta(days=400)}, "log/erasure_other"),
        ({"sections": [*sorted(PERSONAL), "mixes"]}, "log/erasure_other"),
        ({"kept": UNTIL - timedelta(days=9)}, "log/row_says_other"),
        ({}, None),
    ],
)
def test_an_erasure_that_was_signed_within_the_term_or_of_too_much_is_named(signed, other, why):
    restate(signed, **other)
    assert (why in wordings(signed)) if why else not wordings(signed)


def test_an_erasure_that_was_signed_while_a_hold_stood_is_named(signed, colleague):
    hold(signed, "a claim", colleague.user)
    restate(signed)
    assert "log/erased_while_held" in wordings(signed)


def test_an_erasure_whose_bytes_were_changed_is_named(signed):
    erased(signed)
    row = Erasure.objects.for_firm(signed.firm).get()
    changed = bytes(row.record).replace(b"2028-09-14", b"2027-09-14")
    by_sql("UPDATE records_erasure SET record = %s", changed)
    assert {"log/leaf_changed", "log/digest_changed", "signed/broken_signature"} <= wordings(signed)
