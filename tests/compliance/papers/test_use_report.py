"""The use report on paper: what is asked for, by whom, of which time; a draft says that it did not go out."""

from datetime import date
from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader

from compliance.papers import use_report
from compliance.papers.use_report.content import Sent, content_of
from compliance.reports import content
from compliance.reports.content import ReportDuty, own_form
from compliance.reports.periods import read_period
from compliance.services.reports_due import duty_of
from shared.paper import as_json
from tests.compliance.papers.pdf import squeezed, text_of
from tests.compliance.reports.documents import SPREADER, WASH, document, mix, reported

FIRM = {
    "name": "Quillfeather Exterior Care",
    "address": "12 Cooper Lane, Port Quill CA 90000",
    "phone": "+1 360 555 0100",
    "licences": [{"authority": "us-ca", "kind": "pest control business", "number": "PCB-00017"}],
}
SENT = Sent(1, date(2026, 4, 8), "by post to the county office", "sha256:" + "1f" * 32)
ROOF = mix((WASH, "1.5 gal"), (SPREADER, "6 fl_oz"), water="13.453125 gal", applied="14 gal")
WORK = [document(ROOF), document({**ROOF, "applied": None}, use="business")]


def duty(rule: str) -> ReportDuty:
    found = duty_of(rule)
    assert found
    return found


def monthly(work: list[dict[str, Any]] = WORK) -> dict[str, Any]:
    asked = duty("us-ca/report/monthly")
    sums = reported(work, asked.form)
    return content.content_of(asked, asked.form, read_period("2026-03"), "Quill County", FIRM, sums)


def own() -> dict[str, Any]:
    form = own_form(metric=True)
    return content.content_of(None, form, read_period("2026"), "", FIRM, reported(WORK, form))


def printed(report: dict[str, Any], sent: Sent | None = None, **options: Any) -> str:
    return text_of(PdfReader(BytesIO(use_report.build(report, sent, **options))))


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_content_is_as_looked_at(golden, language: str) -> None:
    golden(f"use-report.{language}", as_json(content_of(monthly(), SENT, language)))
    golden(f"use-report-own.{language}", as_json(content_of(own(), None, language)))


def test_what_was_not_sent_is_stamped_and_what_was_carries_its_digest() -> None:
    stamp, digest = squeezed("NOT FILED – figures may still change"), squeezed(SENT.digest)
    assert stamp in printed(monthly())
    assert stamp not in printed(monthly(), SENT)
    assert digest in printed(monthly(), SENT)
    assert stamp not in printed(own())


def test_a_month_without_work_is_reported_as_one() -> None:
    spanish = {"language": "es", "paper": "a4"}
    assert squeezed("En este periodo no se aplicó nada.") in printed(monthly([]), SENT, **spanish)
    assert squeezed("Ningún registro firmado dice") in printed(monthly([]), **spanish)


def test_the_authority_is_told_what_it_asks_for_and_no_more() -> None:
    assert squeezed("invented active") not in printed(monthly(), SENT)
    assert squeezed("invented active") in printed(own())


def test_kilograms_say_how_a_litre_was_counted() -> None:
    asked = duty("ca-bc/report/annual")
    sums = reported(WORK, asked.form)
    report = content.content_of(asked, asked.form, read_period("2026"), "", FIRM, sums)
    assert squeezed("A litre of product counts as 1 kg.") in printed(report)


def test_the_same_report_gives_the_same_bytes() -> None:
    assert use_report.build(monthly(), SENT) == use_report.build(monthly(), SENT)


def test_the_firms_own_names_what_its_figures_leave_out_and_an_authoritys_does_not() -> None:
    report = own()
    assert report["open"]
    said = printed(report)
    for each in report["open"]:
        assert squeezed(each["says"]["en"]) in said
        assert squeezed(report["records"][each["record"]]["number"]) in said
    assert squeezed("What is open") not in printed(monthly())
    many = {**report, "open": report["open"][:1] * 52}
    assert squeezed("And 2 more, on the page.") in printed(many)
