"""`manage.py print_record`: whole files, clear refusals, no database."""

import json
from io import BytesIO, StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command
from pypdf import PdfReader

from shared.canonical import canonical_bytes
from shared.digests import digest
from tests.compliance.papers.samples import ANSWERS, FACTS, follow_ups, ordinary, signed, stored_check


class Run:
    """One run of the command: its exit code, its standard error, its output file."""

    def __init__(self, folder: Path, file: object, *options: str) -> None:
        given, self.out = folder / "given.json", folder / "out.pdf"
        given.write_text(file if isinstance(file, str) else json.dumps(file))
        errors = StringIO()
        self.code = 0
        try:
            call_command("print_record", str(given), *options, "-o", str(self.out), stderr=errors)
        except SystemExit as ended:
            self.code = int(ended.code or 0)
        self.errors = errors.getvalue()
        self.left = sorted(path.name for path in folder.iterdir())

    @property
    def text(self) -> str:
        return "".join(page.extract_text() for page in PdfReader(BytesIO(self.out.read_bytes())).pages)


def checked_and_signed(**more: Any) -> dict[str, Any]:
    check = stored_check()
    bound = {"digest": digest(canonical_bytes(check)), "context_digest": check["context"]}
    return signed(ordinary(), check=check, bound_check=bound, answers=ANSWERS, **more)


def test_a_mere_document_is_printed_unsigned(tmp_path: Path) -> None:
    run = Run(tmp_path, ordinary())
    assert (run.code, run.errors) == (0, "")
    assert "NOT SIGNED" in run.text


def test_a_signed_record_is_printed_in_the_language_and_on_the_paper_asked_for(tmp_path: Path) -> None:
    run = Run(tmp_path, signed(ordinary()), "--language", "es", "--paper", "a4")
    assert run.code == 0
    assert "NO FIRMADO" not in run.text
    assert "Registro de aplicación de pesticida" in run.text
    assert round(PdfReader(run.out).pages[0].mediabox.height) == 842


def test_what_nobody_signed_in_a_file_is_printed_as_stated_not_verified(tmp_path: Path) -> None:
    later = {"version": 3, "digest": "sha256:" + "2a" * 32, "kind": "corrected"}
    entry = {"received_at": "2026-09-16T15:31:00+00:00"}
    text = Run(tmp_path, signed(ordinary(), entry=entry, superseded_by=later)).text
    assert text.count("tated, not verified") == 2


def test_the_check_sheet_of_a_signed_record_prints_its_stored_check_and_answers(tmp_path: Path) -> None:
    run = Run(tmp_path, checked_and_signed(), "--sheet", "check")
    assert run.code == 0
    assert "Check sheet" in run.text
    assert "Answer given: A single gust while packing up" in run.text


def test_the_check_sheet_of_a_mere_document_checks_it_now(tmp_path: Path) -> None:
    context = FACTS / "roof-in-september.context.json"
    run = Run(tmp_path, ordinary(), "--sheet", "check", "--context", str(context), "--on", "2026-09-15")
    assert (run.code, run.errors) == (0, "")
    assert "September 15, 2026" in run.text
    assert "RCW 17.21.100" in run.text


def test_another_check_than_the_one_signed_is_refused(tmp_path: Path) -> None:
    file = checked_and_signed()
    file["check"]["outcome"] = "met"
    run = Run(tmp_path, file, "--sheet", "check")
    assert run.code == 2
    assert run.errors.startswith("check: ")


@pytest.mark.parametrize("answer", ["yes", {"rule": "us-wa/record/wind"}, {"rule": 5, "reason": "because"}])
def test_an_answer_of_another_shape_is_refused(tmp_path: Path, answer: object) -> None:
    file = checked_and_signed()
    file["record"]["answers"], file["keys"] = [answer], {}
    run = Run(tmp_path, file, "--sheet", "check")
    assert run.code == 2
    assert run.errors.startswith("record.answers[0]: ")


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        (("record", "record", "number"), "2026-0999", "record.signatures[0].value: "),
        (("record", "record", "result"), "stood-down", "record.signatures[0].value: "),
        (("record", "signatures", 0, "value"), "A" * 86, "record.signatures[0].value: "),
        (("sections", "notes"), "Other.", "sections.notes: "),
        (("check", "outcome"), "met", "check: "),
        (("follow_ups", 1, "detail"), "by hand", "follow_ups[1].signatures[0].value: "),
        (
            ("follow_ups", 0, "follows", "id"),
            "0b0a4f54-6d1c-4f7e-9a53-0a6c1f5d2b11",
            "follow_ups[0].follows: ",
        ),
    ],
)
@pytest.mark.parametrize("sheet", ["record", "check"])
def test_what_does_not_hold_is_not_printed(
    tmp_path: Path, path: tuple[Any, ...], value: str, said: str, sheet: str
) -> None:
    file = checked_and_signed(follow_ups=follow_ups())
    *above, last = path
    owner: Any = file
    for step in above:
        owner = owner[step]
    owner[last] = value
    run = Run(tmp_path, file, "--sheet", sheet)
    assert run.code == 2
    assert run.errors.startswith(said)
    assert run.left == ["given.json"]


def test_a_record_file_without_a_check_has_no_check_sheet(tmp_path: Path) -> None:
    run = Run(tmp_path, signed(ordinary()), "--sheet", "check")
    assert run.code == 2
    assert run.errors.startswith("check: ")


@pytest.mark.parametrize(
    ("file", "path"),
    [
        ("not JSON", ""),
        ("[]", ""),
        ({"schema": "treatment-document/1"}, "record: "),
        ({"schema": "treatment-document/1", "record": {}, "moss": 1}, "moss: "),
        ({"schema": "record-file/1"}, "record: "),
        (
            {
                "schema": "treatment-document/1",
                "record": {},
                "surfaces": [{"treated_area": {"value": "3000", "unit": "gal"}}],
            },
            "surfaces[0].treated_area: expected an area, got 3000 gal",
        ),
    ],
)
@pytest.mark.parametrize("sheet", ["record", "check"])
def test_a_faulty_file_is_refused_with_its_path_and_leaves_nothing(
    tmp_path: Path, file: object, path: str, sheet: str
) -> None:
    run = Run(tmp_path, file, "--sheet", sheet)
    assert run.code == 2
    assert path in run.errors
    assert run.errors.strip()
    assert "Traceback" not in run.errors
    assert run.left == ["given.json"]


def test_faults_are_said_in_the_language_asked_for(tmp_path: Path) -> None:
    faulty = {"schema": "treatment-document/1", "record": {}, "notes": 5}
    english, spanish = (Run(tmp_path, faulty, "--language", language).errors for language in ("en", "es"))
    assert english.startswith("notes: ")
    assert spanish.startswith("notes: ")
    assert english != spanish


def test_a_faulty_context_or_day_is_refused(tmp_path: Path) -> None:
    context = tmp_path / "context.json"
    context.write_text('{"earlier": 5}')
    run = Run(tmp_path, ordinary(), "--sheet", "check", "--context", str(context))
    assert run.code == 2
    assert run.errors.startswith("context.earlier: ")
    run = Run(tmp_path, ordinary(), "--on", "2026-02-30")
    assert run.code == 2
    assert "2026-02-30" in run.errors


def test_a_file_that_is_not_there_is_refused(tmp_path: Path) -> None:
    run = Run(tmp_path, ordinary(), "--context", str(tmp_path / "none.json"))
    assert run.code == 2
    assert "none.json" in run.errors


def test_an_output_folder_that_is_not_there_is_refused(tmp_path: Path) -> None:
    given, out, errors = tmp_path / "given.json", tmp_path / "no" / "out.pdf", StringIO()
    given.write_text(json.dumps(ordinary()))
    with pytest.raises(SystemExit) as ended:
        call_command("print_record", str(given), "-o", str(out), stderr=errors)
    assert ended.value.code == 2
    assert "out.pdf" in errors.getvalue()


def test_an_older_file_stays_whole_when_the_new_one_is_refused(tmp_path: Path) -> None:
    (tmp_path / "out.pdf").write_bytes(b"older")
    run = Run(tmp_path, "not JSON")
    assert run.code == 2
    assert run.out.read_bytes() == b"older"
