"""Records past their term can be found, and what they say of people is erased when somebody has it done."""

from datetime import UTC, date, datetime, timedelta
from io import BytesIO

import pytest
from django.core.management import call_command
from django.urls import reverse
from pypdf import PdfReader

from compliance.models import CheckContext, VisitSaid
from compliance.services.keeping import erase_treatment, expired, retention_rules, term_of_treatment
from compliance.services.recheck import begin
from compliance.services.requests import close_request, take_request
from compliance.services.signing import prepare, sign_treatment
from records.log_check import look_at_log
from records.models import Erasure, Treatment
from records.services.erasing import NotErasableError, erase
from records.services.holds import hold, lift
from records.services.key_files import key_file
from records.services.keys import key_in_force
from records.services.to_sign import Signer
from shared import clock
from tests.factories import PASSWORD

DAY = timedelta(days=1)


@pytest.fixture
def signed(done, member) -> Treatment:
    findings = prepare(done, Signer(member.user)).open_findings
    answers = [{"rule": each["rule"], "about": each["about"], "reason": "as it was"} for each in findings]
    sign_treatment(done, member.user, PASSWORD, answers)
    return again(done)


@pytest.fixture
def later(signed, monkeypatch) -> date:
    """The day after the term, which it is now."""
    assert signed.keep_until
    day = signed.keep_until + DAY
    moment = datetime.combine(day, datetime.min.time(), UTC) + timedelta(hours=20)
    with clock.at(moment):
        yield day


def again(treatment: Treatment) -> Treatment:
    return Treatment.objects.for_firm(treatment.firm).get(pk=treatment.pk)


def test_the_registered_packs_have_rules_that_set_terms():
    assert "us-ca/retention/two-years" in retention_rules()
    assert not any("wind" in rule for rule in retention_rules())


def test_signing_notes_until_when_the_record_is_kept(signed):
    term = term_of_treatment(signed)
    assert term and term.until == signed.keep_until
    assert term.until.replace(year=2026) in (date(2026, 9, 14), date(2026, 9, 15))
    assert set(term.under) <= retention_rules()


def test_what_may_be_erased_is_past_its_term_not_held_and_not_erased(signed, colleague):
    firm, last_day = signed.firm, signed.keep_until
    assert list(expired(firm, last_day)) == []
    assert list(expired(firm, last_day + DAY)) == [signed]
    hold(signed, "a claim", colleague.user)
    assert list(expired(firm, last_day + DAY)) == []
    lift(signed, "settled", colleague.user)
    erase_treatment(signed, last_day + DAY)
    assert list(expired(firm, last_day + DAY)) == []


def test_what_an_open_request_asks_for_is_not_erased_until_it_is_closed(signed, colleague):
    firm, after = signed.firm, signed.keep_until + DAY

    def asked(**wanted):
        given = {"asked_by": "regulator", "name": "M. Reyes", "means": "letter", "asked_for": "all of it"}
        given |= {"received_at": clock.now(), "wanted": wanted}
        return take_request(firm, colleague.user, given, None)

    asked(product="other wash")
    assert list(expired(firm, after)) == [signed]
    request = asked(product="sample moss wash")
    assert list(expired(firm, after)) == []
    with pytest.raises(NotErasableError):
        erase_treatment(signed, after)
    close_request(request, colleague.user, "answered in full")
    assert list(expired(firm, after)) == [signed]


def test_the_term_is_worked_out_anew_and_not_taken_from_the_register(signed):
    Treatment.objects.for_firm(signed.firm).update(keep_until=date(2026, 1, 1))
    with pytest.raises(NotErasableError):
        erase_treatment(signed, date(2026, 12, 1))
    assert not Erasure.objects.for_firm(signed.firm).exists()


def test_what_was_known_around_the_record_goes_too_and_it_is_not_checked_again(signed):
    VisitSaid.objects.create(firm=signed.firm, treatment=signed, filled={"cost": "$90, J. Finch pays"})
    erase_treatment(signed, signed.keep_until + DAY)
    assert not VisitSaid.objects.for_firm(signed.firm).exists()
    assert not CheckContext.objects.for_firm(signed.firm).exists()
    assert begin(signed.firm, "today").total == 0


def broken(treatment: Treatment) -> list[tuple[str, str]]:
    return [(one.whose, one.fault.wording) for one in look_at_log(treatment.firm).broken]


def test_the_look_works_the_term_out_anew_from_the_kept_checks(signed, later):
    erase_treatment(signed, later)
    assert broken(signed) == []


def test_an_erasure_that_was_signed_within_the_term_of_the_kept_checks_is_named(signed):
    today = signed.keep_until - DAY
    with clock.at(datetime.combine(today, datetime.min.time(), UTC) + timedelta(hours=20)):
        erase(signed, today - DAY, ["us-wa/retention/seven-years"], today)
    assert broken(signed) == [(signed.number, "log/erased_within_term")]


@pytest.mark.parametrize("by_command", [True, False])
def test_nothing_is_erased_where_the_firm_can_t_sign_it(client, signed, later, colleague, capsys, by_command):
    key_file(key_in_force(signed.firm).digest).unlink()
    if by_command:
        with pytest.raises(SystemExit) as ended:
            call_command("erase_expired")
        assert ended.value.code == 1
        assert "put it back from a backup" in capsys.readouterr().err
    else:
        client.force_login(colleague.user)
        asked = {"treatment": [str(signed.pk)], "password": PASSWORD}
        answer = client.post(reverse("keeping"), asked)
        assert answer.status_code == 422
        assert "signing key is missing" in answer.content.decode()
    assert "customer" in again(signed).document


def test_a_dry_run_says_what_may_be_erased_and_changes_nothing(signed, later, capsys):
    call_command("erase_expired", "--dry-run")
    said = capsys.readouterr().out
    assert f"{signed.number}: may be erased, was to be kept until {signed.keep_until}" in said
    assert said.endswith("1 may be erased. Nothing was changed.\n")
    assert "customer" in again(signed).document


def test_the_command_erases_what_is_past_its_term(signed, later, capsys):
    call_command("erase_expired", "--language", "es")
    assert capsys.readouterr().out.endswith("1 borrados.\n")
    assert "customer" not in again(signed).document
    assert Erasure.objects.for_firm(signed.firm).get().by is None


def test_within_the_term_the_command_erases_nothing(signed, capsys):
    call_command("erase_expired")
    assert capsys.readouterr().out == "0 erased.\n"
    assert "customer" in again(signed).document


def test_a_firm_that_is_not_there_is_refused(db, capsys):
    with pytest.raises(SystemExit) as ended:
        call_command("erase_expired", "--firm", "nobody")
    assert (ended.value.code, capsys.readouterr().err) == (2, "There is no such firm.\n")


def test_a_manager_sees_what_may_be_erased_and_has_it_done(client, signed, later, colleague):
    client.force_login(colleague.user)
    page = client.get(reverse("keeping")).content.decode()
    assert signed.number in page
    assert signed.site_name in page
    answer = client.post(reverse("keeping"), {"treatment": [str(signed.pk)], "password": PASSWORD}, follow=True)
    assert "One record was erased." in answer.content.decode()
    assert "There is none." in answer.content.decode()
    assert Erasure.objects.for_firm(signed.firm).get().by == colleague.user


def test_a_wrong_password_erases_nothing(client, signed, later, colleague):
    client.force_login(colleague.user)
    answer = client.post(reverse("keeping"), {"treatment": [str(signed.pk)], "password": "another one"})
    assert answer.status_code == 422
    assert "customer" in again(signed).document


def test_only_what_was_shown_is_erased(client, signed, later, colleague):
    client.force_login(colleague.user)
    client.post(reverse("keeping"), {"password": PASSWORD})
    assert "customer" in again(signed).document


def test_crew_neither_sees_the_list_nor_holds(client, signed, member):
    client.force_login(member.user)
    assert client.get(reverse("keeping")).status_code == 403
    assert client.get(reverse("hold", kwargs={"uuid": signed.pk})).status_code == 403
    assert (
        "Hold this record" not in client.get(reverse("treatment", kwargs={"uuid": signed.pk})).content.decode()
    )


def test_a_manager_holds_a_record_on_its_page_and_lifts_the_hold(client, signed, colleague):
    client.force_login(colleague.user)
    where = reverse("treatment", kwargs={"uuid": signed.pk})
    client.post(reverse("hold", kwargs={"uuid": signed.pk}), {"reason": "the neighbour's claim"})
    page = client.get(where).content.decode()
    assert "the neighbour&#x27;s claim" in page
    assert "Lift the hold" in page
    client.post(reverse("lift_hold", kwargs={"uuid": signed.pk}), {"reason": "settled in court"})
    page = client.get(where).content.decode()
    assert "settled in court" in page
    assert "Hold this record" in page


def test_a_hold_without_a_reason_is_asked_for_one(client, signed, colleague):
    client.force_login(colleague.user)
    assert client.post(reverse("hold", kwargs={"uuid": signed.pk}), {"reason": " "}).status_code == 422


def test_page_and_papers_of_an_erased_record_say_so_in_both_languages(client, signed, later, colleague):
    erase_treatment(signed, later)
    client.force_login(colleague.user)
    page = client.get(reverse("treatment", kwargs={"uuid": signed.pk})).content.decode()
    assert "What this record said of people was erased on" in page
    assert "A. Marlowe" not in page
    assert "Not recorded" not in page
    assert reverse("correct", kwargs={"uuid": signed.pk}) not in page
    for language, said, erased_or_not in (
        ("en", "was erased on", "erased or not recorded"),
        ("es", "se borró el", "borrado o no registrado"),
    ):
        keys = {"uuid": signed.pk, "version": 1, "language": language}
        sheet = "".join(
            " ".join(each.extract_text().split()) + " "
            for each in PdfReader(BytesIO(client.get(reverse("record_sheet", kwargs=keys)).content)).pages
        )
        assert said in sheet
        assert "Marlowe" not in sheet
        assert "Sample Moss Wash" in sheet
        assert erased_or_not in sheet
    for name in ("medical", "comparison", "notices"):
        assert client.get(reverse(name, kwargs={"uuid": signed.pk})).status_code == 200
    keys["language"] = "en"
    assert client.get(reverse("check_sheet", kwargs=keys)).status_code == 200
    assert client.get(reverse("record_file", kwargs={"uuid": signed.pk, "version": 1})).json()["erased"]
