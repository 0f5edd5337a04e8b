"""A report is made of signed records alone, is frozen when it is filed, and is asked for when it is due."""

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest
from django.core.exceptions import PermissionDenied

from benchmarks.log_at_scale import Multiplied
from compliance.models import FiledReport
from compliance.reports.content import digest_of
from compliance.reports.periods import Period, read_period
from compliance.reports.sums import Sums
from compliance.reports.uses import Source, areas_of, uses_of
from compliance.services import reports_due
from compliance.services.determinations import determine
from compliance.services.reports import (
    ChangedMeanwhileError,
    Wanted,
    file_report,
    filed_versions,
    form_of,
    make_report,
    uncounted,
)
from compliance.services.reports_due import duty_of
from records.document.edits import Edit
from records.document.reader import read
from records.models import SignedRecord, Treatment
from records.selectors import document_of
from records.services.corrections import start_correction
from records.services.drafts import edit_draft
from records.services.signing import void
from records.services.to_sign import Signer
from shared import clock
from shared.orm.append_only import AppendOnlyError
from tests.compliance.reports.documents import table
from tests.factories import LicenceFactory, SiteFactory
from tests.records.logged import sign_now

SEPTEMBER = Period(2026, 9)
OCTOBER_5 = datetime(2026, 10, 5, 17, 0, tzinfo=UTC)


@pytest.fixture
def in_california(plan) -> None:
    plan.site.jurisdictions = ["us", "us-ca"]
    plan.site.use = "residence"
    plan.site.save()


@pytest.fixture
def signed(in_california, done, member) -> Treatment:
    sign_now(done, member)
    return done


@pytest.fixture
def monthly() -> Wanted:
    return Wanted(duty_of("us-ca/report/monthly"), SEPTEMBER, "Quill County")


def asked(firm, wanted):
    return [line[-4:] for line in table(make_report(firm, wanted), "asked")]


def filed(firm, wanted, by, **given) -> FiledReport:
    shown = digest_of(make_report(firm, wanted))
    return file_report(firm, wanted, by.user, shown=shown, sent_on=date(2026, 10, 5), how="by post", **given)


def owed(firm) -> list[tuple[str, str, str]]:
    found = [each for each in reports_due.reports_due(firm) if each.is_owed]
    return [(each.wanted.rule, str(each.wanted.period), each.due.isoformat()) for each in found]


@pytest.mark.parametrize("rule", [None, "us-ca/report/monthly"])
def test_the_sums_are_those_of_the_documents_read_strictly(firm, done, in_california, member, rule):
    sign_now(done, member)
    multiplied = Multiplied(SignedRecord.across_firms.get())
    multiplied.add(8)
    wanted = Wanted(rule and duty_of(rule), SEPTEMBER, "Quill County" if rule else "")
    slow = Sums(form_of(firm, wanted.duty))
    records = SignedRecord.across_firms.select_related("treatment").order_by("treatment__number")
    for record in records:
        document = read(document_of(record))
        source = Source(str(record.treatment_id), record.treatment.number, record.version, record.digest)
        place = document.site.jurisdictions
        if rule is None or ("us-ca" in place and document.site.county == "Quill County"):
            slow.add(uses_of(document, source), areas_of(document, source))
    report = make_report(firm, wanted)
    assert {name: report[name] for name in slow.as_json()} == slow.as_json()
    assert len(report["records"]) >= (1 if rule else 7)


def test_what_is_signed_is_counted_and_nothing_else(firm, done, in_california, member, colleague, monthly):
    assert asked(firm, monthly) == []
    assert uncounted(firm, SEPTEMBER) == {"draft": 1, "brought-in": 0, "void": 0}
    sign_now(done, member)
    assert asked(firm, monthly) == [("Sample Moss Wash", "1.4", "gal", 1)]
    done.refresh_from_db()
    void(done, "it was the neighbour's roof", Signer(colleague.user))
    assert asked(firm, monthly) == []
    assert uncounted(firm, SEPTEMBER)["void"] == 1


def test_the_version_that_stands_is_counted_and_a_correction_that_is_being_written_is_not(
    firm, signed, member, monthly
):
    draft = start_correction(signed, member.user, "the gauge was misread")
    mix = draft.document["mixes"][0]["id"]
    edit_draft(draft, [Edit("a", f"mixes[{mix}].applied", "12 gal", draft.revision)], member.user)
    assert asked(firm, monthly) == [("Sample Moss Wash", "1.4", "gal", 1)]
    sign_now(draft, member)
    assert asked(firm, monthly) == [("Sample Moss Wash", "1.2", "gal", 1)]


def test_another_month_county_state_or_kind_of_site_has_none_of_it(firm, signed):
    monthly = duty_of("us-ca/report/monthly")
    for elsewhere in (
        Wanted(monthly, Period(2026, 8), "Quill County"),
        Wanted(monthly, SEPTEMBER, "North County"),
        Wanted(duty_of("us-ny/report/annual"), Period(2026)),
        Wanted(duty_of("us-ca/report/school"), Period(2026)),
    ):
        assert asked(firm, elsewhere) == [], elsewhere


def test_a_record_without_a_county_stands_in_no_county_s_report_and_each_says_so(
    firm, plan, in_california, done, member, monthly
):
    plan.site.county = ""
    plan.site.save()
    sign_now(done, member)
    report = make_report(firm, monthly)
    assert table(report, "asked") == []
    (left,) = report["open"]
    assert left["says"]["en"].endswith("stands in no county's report")
    assert [each["number"] for each in report["records"]] == [done.number]


def test_the_firm_s_own_summary_counts_all_places_of_a_year(firm, signed):
    assert asked(firm, Wanted(None, Period(2026))) == [("Sample Moss Wash", "1.4", "gal", 1)]


def test_another_firm_s_report_has_none_of_ours(signed, stranger, monthly):
    assert asked(stranger.firm, monthly) == []


def test_what_is_filed_stays_as_it_was_sent_whatever_is_corrected_later(
    firm, signed, colleague, member, monthly
):
    first = filed(firm, monthly, colleague)
    draft = start_correction(signed, member.user, "the gauge was misread")
    mix = draft.document["mixes"][0]["id"]
    edit_draft(draft, [Edit("a", f"mixes[{mix}].applied", "12 gal", draft.revision)], member.user)
    sign_now(draft, member)
    first.refresh_from_db()
    assert [line[-3] for line in table(first.content, "asked")] == ["1.4"]
    assert digest_of(first.content) == first.digest
    with pytest.raises(AppendOnlyError):
        first.save()
    second = filed(firm, monthly, colleague, reason="a gauge was misread")
    assert [line[-3] for line in table(second.content, "asked")] == ["1.2"]
    assert list(filed_versions(firm, monthly)) == [second, first]
    assert (first.version, second.version, second.reason) == (1, 2, "a gauge was misread")


def test_a_report_that_is_sent_twice_at_once_is_kept_once_and_amended_only_with_a_reason(
    firm, signed, colleague, member, monthly
):
    first = filed(firm, monthly, colleague)
    assert filed(firm, monthly, colleague) == first
    void(signed, "it was the neighbour's roof", Signer(colleague.user))
    with pytest.raises(ChangedMeanwhileError):
        filed(firm, monthly, colleague)
    assert list(filed_versions(firm, monthly)) == [first]
    assert filed(firm, monthly, colleague, reason="it is void").version == 2


def test_nobody_files_other_figures_than_they_saw(firm, signed, colleague, member, monthly):
    shown = digest_of(make_report(firm, monthly))
    sign_now(start_correction(signed, member.user, "the lot was misread"), member)
    with pytest.raises(ChangedMeanwhileError):
        file_report(firm, monthly, colleague.user, shown=shown, sent_on=date(2026, 10, 5), how="by post")
    with pytest.raises(PermissionDenied):
        file_report(firm, monthly, member.user, shown=shown, sent_on=date(2026, 10, 5), how="by post")
    assert not FiledReport.objects.for_firm(firm).exists()


def test_a_month_s_report_is_owed_until_it_is_filed_also_where_nothing_was_done(
    firm, signed, colleague, monthly
):
    with clock.at(OCTOBER_5):
        assert owed(firm) == [("us-ca/report/monthly", "2026-09", "2026-10-10")]
        filed(firm, monthly, colleague)
        assert owed(firm) == []
    with clock.at(datetime(2026, 12, 5, 17, 0, tzinfo=UTC)):
        assert owed(firm) == [
            ("us-ca/report/monthly", "2026-10", "2026-11-10"),
            ("us-ca/report/monthly", "2026-11", "2026-12-10"),
        ]


def test_each_county_is_owed_one_of_its_own_and_a_new_customer_s_county_begins_one(firm, signed):
    SiteFactory(firm=firm, county="North County", jurisdictions=["us", "us-ca"])
    SiteFactory(firm=firm, county="quill  county", jurisdictions=["us", "us-ca"])
    SiteFactory(firm=firm, county="Cooper County", jurisdictions=["us", "us-ny"])
    with clock.at(OCTOBER_5):
        counties = [each.wanted.county for each in reports_due.reports_due(firm) if each.is_owed]
    assert counties == ["North County", "Quill County"]


def test_a_county_is_one_with_and_without_its_accents(firm, signed, monthly):
    SiteFactory(firm=firm, county="Quíll County", jurisdictions=["us", "us-ca"])
    with clock.at(OCTOBER_5):
        (owed_now,) = [each.wanted for each in reports_due.reports_due(firm) if each.is_owed]
    assert asked(firm, owed_now) == asked(firm, replace(monthly, county="QUÍLL county")) == asked(firm, monthly)
    assert asked(firm, monthly) != []


def test_a_year_without_work_is_not_owed_where_the_law_wants_no_nil_report(firm, plan, done, member):
    plan.site.jurisdictions = ["us", "us-ny"]
    plan.site.save()
    with clock.at(datetime(2027, 1, 5, 17, 0, tzinfo=UTC)):
        assert owed(firm) == []
        sign_now(done, member)
        assert owed(firm) == [("us-ny/report/annual", "2026", "2027-02-01")]
    with clock.at(datetime(2028, 1, 5, 17, 0, tzinfo=UTC)):
        assert owed(firm) == [("us-ny/report/annual", "2026", "2027-02-01")]


@pytest.fixture
def at_a_school(plan, in_california) -> None:
    plan.site.use = "school"
    plan.site.save()


def test_work_at_a_school_is_owed_a_report_whatever_the_place_is_used_for_since(
    firm, plan, at_a_school, done, member
):
    sign_now(done, member)
    plan.site.use = "business"
    plan.site.save()
    with clock.at(datetime(2027, 1, 5, 17, 0, tzinfo=UTC)):
        assert ("us-ca/report/school", "2026", "2027-01-30") in owed(firm)


def test_who_uses_excluded_products_alone_owes_british_columbia_none_from_the_day_of_that_answer(firm):
    SiteFactory(firm=firm, jurisdictions=["ca", "ca-bc"])
    determine(firm, "ca-bc/question/excluded", "yes", by="J. Quill", valid_from=date(2026, 5, 1))
    with clock.at(datetime(2026, 1, 5, 17, 0, tzinfo=UTC)):
        assert owed(firm) == [("ca-bc/report/annual", "2025", "2026-01-31")]
    with clock.at(datetime(2027, 1, 5, 17, 0, tzinfo=UTC)):
        assert owed(firm) == []


def test_the_month_that_is_running_is_shown_and_not_owed(firm, signed):
    with clock.at(datetime(2026, 9, 20, 17, 0, tzinfo=UTC)):
        (found,) = reports_due.reports_due(firm)
        assert (str(found.wanted.period), found.running, found.is_owed) == ("2026-09", True, False)


@pytest.mark.parametrize("text", ["", "2026-13", "2026-00", "0001", "2026-1", "26", "2026-09-14", "9999-12"])
def test_what_is_no_period_is_refused(text):
    with pytest.raises(ValueError, match="no period"):
        read_period(text)


def test_months_and_years_follow_one_another():
    assert [str(read_period(text).before) for text in ("2026-01", "2026-12", "2026")] == [
        "2025-12", "2026-11", "2025",
    ]  # fmt: skip
    assert (read_period("2028-02").last, read_period("2026").last) == (date(2028, 2, 29), date(2026, 12, 31))


def test_who_reports_is_named_with_each_licence_of_the_period_once(firm):
    own = {"firm": firm, "person": None, "authority": "us-ca", "kind": "pest control business"}
    for year in (2025, 2026):
        days = {"valid_from": date(year, 1, 1), "valid_to": date(year, 12, 31)}
        LicenceFactory(**own, number="CA-00017", **days)
    LicenceFactory(**own, number="CA-00009", valid_from=date(2024, 1, 1), valid_to=date(2026, 8, 31))
    LicenceFactory(**own, number="CA-00021", valid_from=date(2026, 10, 1), valid_to=None)

    def named(period: str) -> list[str]:
        licences = make_report(firm, Wanted(None, read_period(period)))["firm"]["licences"]
        return [each["number"] for each in licences]

    assert named("2026-09") == ["CA-00017"]
    assert named("2026") == ["CA-00009", "CA-00017", "CA-00021"]
    assert named("2023") == []
