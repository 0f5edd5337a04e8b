"""The pages of use reports: what is owed, a figure with its records one click away, and what was sent, kept."""

import csv
from datetime import UTC, datetime
from io import BytesIO, StringIO

import pytest
from django.urls import reverse
from pypdf import PdfReader

from compliance.models import FiledReport
from records.document.edits import Edit
from records.services.corrections import start_correction
from records.services.drafts import edit_draft
from shared import clock
from tests.compliance.services.test_reports import in_california, signed  # noqa: F401 - fixtures
from tests.records.auditing.entries import newest
from tests.records.logged import sign_now

OF = {"duty": "us-ca:report:monthly", "period": "2026-09"}
HERE = reverse("report", kwargs=OF) + "?county=Quill+County"
SENT = {"sent_on": "2026-10-05", "how": "by post to the county office"}


@pytest.fixture
def manager(client, colleague):
    client.force_login(colleague.user)
    with clock.at(datetime(2026, 10, 5, 17, 0, tzinfo=UTC)):
        yield client


def file(manager, **more) -> FiledReport:
    page = manager.get(HERE)
    shown = page.context["form"]["shown"].value()
    answer = manager.post(HERE, {**SENT, "shown": shown, **more})
    assert answer.status_code == 302, answer.context["form"].errors
    return FiledReport.across_firms.latest("version")


def correct(treatment, member) -> None:
    draft = start_correction(treatment, member.user, "the gauge was misread")
    mix = draft.document["mixes"][0]["id"]
    edit_draft(draft, [Edit("a", f"mixes[{mix}].applied", "12 gal", draft.revision)], member.user)
    sign_now(draft, member)


def test_what_is_owed_stands_first_and_leads_to_its_figures(manager, signed):  # noqa: F811
    page = manager.get(reverse("reports"))
    assert [(each.wanted.rule, each.wanted.county) for each in page.context["owed"]] == [
        ("us-ca/report/monthly", "Quill County")
    ]
    assert HERE in page.content.decode()
    report = manager.get(HERE)
    assert "1.4 gal" in report.content.decode()
    assert report.context["may_be_filed"]


def test_the_records_behind_each_figure_are_one_click_away_and_add_up_to_it(manager, signed):  # noqa: F811
    report = manager.get(HERE)
    for table, lines in report.context["tables"]:
        for line in lines:
            where = reverse("report_behind", kwargs={**OF, "table": table.name, "line": line.number})
            assert where in report.content.decode()
            behind = manager.get(f"{where}?county=Quill+County")
            assert [part.record["number"] for part in behind.context["parts"]] == [signed.number]
            assert behind.context["parts"][0].amount == line.amount
            assert reverse("treatment", kwargs={"uuid": signed.pk}) in behind.content.decode()


def test_a_report_is_kept_as_it_was_sent_and_says_when_the_records_say_otherwise(manager, signed, member):  # noqa: F811
    filed = file(manager)
    where = reverse("filed_report", kwargs={"filed": filed.pk})
    assert manager.get(HERE).context["may_be_filed"] is False
    assert not manager.get(where).context["differs"]
    looked = "The records give other figures by now: to be amended"
    assert looked not in manager.get(reverse("reports")).content.decode()
    assert where not in manager.get(reverse("desk")).content.decode()
    with clock.at(datetime(2026, 10, 6, 17, 0, tzinfo=UTC)):
        correct(signed, member)
        assert manager.get(reverse("reports")).content.decode().count(looked) == 1
        assert where in manager.get(reverse("desk")).content.decode()
    kept = manager.get(where)
    assert kept.context["differs"]
    assert "1.4 gal" in kept.content.decode()
    assert manager.get(HERE).context["may_be_filed"]
    second = file(manager, reason="a gauge was misread")
    assert [each.pk for each in manager.get(where).context["newer"]] == [second.pk]
    assert newest(filed.firm, thing="compliance.filedreport", kind="sent").reason == SENT["how"]


def test_what_can_t_be_is_said_beside_its_field_and_nothing_is_kept(manager, signed):  # noqa: F811
    shown = manager.get(HERE).context["form"]["shown"].value()
    for field, typed in (
        ("sent_on", "2026-10-06"),
        ("sent_on", "2026-09-30"),
        ("sent_on", "soon"),
        ("how", ""),
    ):
        answer = manager.post(HERE, {**SENT, "shown": shown, field: typed})
        assert (answer.status_code, set(answer.context["form"].errors)) == (422, {field})
    assert not FiledReport.across_firms.exists()


def test_other_figures_than_were_seen_are_not_filed(manager, signed, member):  # noqa: F811
    shown = manager.get(HERE).context["form"]["shown"].value()
    correct(signed, member)
    answer = manager.post(HERE, {**SENT, "shown": shown}, follow=True)
    assert "The records are others than when you opened this page" in answer.content.decode()
    assert not FiledReport.across_firms.exists()


def test_no_record_is_no_word_that_nothing_was_done_until_a_person_says_so(manager, signed):  # noqa: F811
    year = reverse("report", kwargs={"duty": "us-ny:report:annual", "period": "2025"})
    page = manager.get(year)
    assert "The first record that was signed here is of Sept. 14, 2026" in page.content.decode()
    given = {**SENT, "shown": page.context["form"]["shown"].value()}
    assert set(manager.post(year, given).context["form"].errors) == {"nothing"}
    manager.post(year, {**given, "nothing": "on"})
    (filed,) = FiledReport.across_firms.all()
    kept = manager.get(reverse("filed_report", kwargs={"filed": filed.pk})).content.decode()
    assert "Nothing was applied in this time." in kept


def test_what_is_open_is_said_and_has_to_be_seen_before_it_is_filed(manager, plan, done, member, in_california):  # noqa: F811
    plan.site.county = ""
    plan.site.save()
    sign_now(done, member)
    report = manager.get(HERE)
    assert "stands in no county" in report.content.decode()
    shown = report.context["form"]["shown"].value()
    assert set(manager.post(HERE, {**SENT, "shown": shown}).context["form"].errors) == {"seen", "nothing"}
    ticked = {"seen": "on", "nothing": "on"}
    assert manager.post(HERE, {**SENT, "shown": shown, **ticked}).status_code == 302


def test_a_month_that_is_running_and_one_s_own_summary_are_shown_and_not_filed(manager, signed):  # noqa: F811
    october = reverse("report", kwargs={**OF, "period": "2026-10"}) + "?county=Quill+County"
    page = manager.get(october)
    assert (page.context["may_be_filed"], page.context["running"]) == (False, True)
    assert "No signed record says that anything was applied" in page.content.decode()
    answer = manager.get(reverse("reports") + "?of=2026", follow=True)
    assert answer.context["own"]
    assert "invented active" in answer.content.decode()
    for where in (october, answer.request["PATH_INFO"]):
        manager.post(where, {**SENT, "shown": "x"})
    assert not FiledReport.across_firms.exists()


def test_words_that_are_no_period_are_asked_for_again(manager):
    page = manager.get(reverse("reports") + "?of=last+month")
    assert page.status_code == 422
    assert page.context["form"].errors


def test_a_report_that_is_none_is_not_found(manager):
    addresses = (
        "us-ca:report:monthly/2026/", "us-ca:report:monthly/2026-13/", "us-ny:report:annual/2026-09/",
        "us-xx:report/2026/", "us-wa:posting/2026/", "own:summary/x/", "own:summary/2026/asked/99/",
        "own:summary/2026/nothing/0/", "own:summary/2026/nothing.csv", "own:summary/2026/report-xx.pdf",
    )  # fmt: skip
    found = {each: manager.get(reverse("reports") + each).status_code for each in addresses}
    assert set(found.values()) == {404}, found


def test_the_paper_and_the_table_say_what_the_page_says_also_of_a_filed_one(manager, signed):  # noqa: F811
    filed = file(manager)
    for kind, of in (("report", OF), ("filed", {"filed": filed.pk})):
        paper = reverse(f"{kind}_paper", kwargs={**of, "language": "es"})
        drawn = manager.get(f"{paper}?county=Quill+County").getvalue()
        text = " ".join(PdfReader(BytesIO(drawn)).pages[0].extract_text().split())
        assert "1.4 gal" in text
        assert ("NO PRESENTADO" in text) == (kind == "report")
        table = reverse(f"{kind}_csv", kwargs={**of, "table": "asked"})
        lines = manager.get(f"{table}?county=Quill+County").getvalue().decode("utf-8-sig")
        (row,) = csv.DictReader(StringIO(lines))
        assert (row["Amount"], row["Amount, exact"], row["Records"]) == ("1.4", "7/5", signed.number)


def test_no_cell_of_the_table_is_a_formula(manager, plan, done, member, in_california):  # noqa: F811
    plan.site.county = "=1+1"
    plan.site.save()
    sign_now(done, member)
    year = reverse("report_csv", kwargs={"duty": "own:summary", "period": "2026", "table": "county"})
    assert "'=1+1" in manager.get(year).getvalue().decode()


def test_who_looked_at_a_report_and_who_took_it_stands_in_who_did_what(manager, signed):  # noqa: F811
    filed = file(manager)
    manager.get(reverse("report_csv", kwargs={**OF, "table": "asked"}) + "?county=Quill+County")
    manager.get(reverse("filed_paper", kwargs={"filed": filed.pk, "language": "en"}))
    said = manager.get(reverse("audit")).content.decode()
    for words in ("A use report", "Use report as a file", "Filed use report (PDF)", "filed report"):
        assert words in said


def test_a_stranger_finds_no_filed_report_of_ours(manager, client, signed, stranger):  # noqa: F811
    filed = file(manager)
    client.force_login(stranger.user)
    assert client.get(reverse("filed_report", kwargs={"filed": filed.pk})).status_code == 404
