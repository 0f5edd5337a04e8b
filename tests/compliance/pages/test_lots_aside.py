"""A lot that is set aside is said to whoever has it in a plan, everywhere until it is signed."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.urls import reverse

from compliance.pages.open_findings import opened
from compliance.services.signing import prepare
from records.document.edits import Edit
from records.models import AuditEntry, SignedRecord
from records.services.corrections import start_correction
from records.services.drafts import edit_draft
from records.services.to_sign import Signer
from shared import clock
from tests.factories import PASSWORD, LotFactory, StockMoveFactory
from tests.records.logged import sign_now

NOW = datetime(2026, 9, 14, 17, 0, tzinfo=UTC)


@pytest.fixture
def aside(plan, colleague):
    lot, by = plan.products[0].lot, colleague.user
    return StockMoveFactory(
        lot=lot, kind="set-aside", amount=None, on=date(2026, 9, 13), why="notice R-17 of the supplier", by=by
    )


@pytest.fixture
def crew(client, member):
    client.force_login(member.user)
    return client


def page(client, name: str, treatment=None, **more) -> str:
    of = {"uuid": treatment.pk, **more} if treatment else {}
    with clock.at(NOW):
        return client.get(reverse(name, kwargs=of)).content.decode()


def beside_the_lot(client, treatment) -> str:
    mix = treatment.document["mixes"][0]
    slug = f'id="r-mixes-{mix["id"]}-products-{mix["products"][0]["id"]}-lot"'
    return page(client, "section", treatment, section="mix").partition(slug)[2].partition('class="field')[0]


def everywhere(client, treatment) -> list[bool]:
    """On the treatment, beside the lot, on Today, before signing."""
    texts = [page(client, "treatment", treatment), beside_the_lot(client, treatment)]
    texts += [page(client, "home"), page(client, "sign", treatment)]
    return ["notice R-17" in each for each in texts]


def test_it_is_said_on_the_treatment_beside_the_lot_on_today_and_before_signing(crew, done, aside):
    assert everywhere(crew, done) == [True] * 4


def test_it_is_said_however_the_lots_number_was_written(crew, done, aside, member):
    mix = done.document["mixes"][0]
    path = f"mixes[{mix['id']}].products[{mix['products'][0]['id']}].lot"
    edit_draft(done, [Edit("slip", path, "l 0457", done.revision)], member.user)
    assert everywhere(crew, done) == [True] * 4
    edit_draft(done, [Edit("other", path, "L-0500", done.revision)], member.user)
    assert everywhere(crew, done) == [False] * 4


def test_nothing_is_said_of_it_once_it_is_taken_back(crew, done, aside):
    StockMoveFactory(lot=aside.lot, kind="taken-back", amount=None, of=aside, on=aside.on, by=aside.by)
    assert everywhere(crew, done) == [False] * 4


def test_the_manager_has_it_on_his_page_until_the_treatment_is_signed(client, colleague, done, aside, member):
    client.force_login(colleague.user)

    def found() -> list[str]:
        with clock.at(NOW - timedelta(days=1)):
            groups = client.get(reverse("desk")).context["groups"]
        return [need.address for group in groups if group.key == "lots" for need in group.needs]

    assert found() == [reverse("treatment", kwargs={"uuid": done.pk})]
    sign_now(done, member)
    assert found() == []


def test_it_is_signed_only_by_who_says_that_it_was_really_used_and_their_word_is_kept(
    crew, firm, done, aside, member
):
    prepared = prepare(done, Signer(member.user))
    keys = [each.key for each in opened(prepared.open_findings, [], "en", judged=False)]
    reasons = {f"reason-{number}": "as it was" for number in range(len(keys))}
    form = {
        "revision": done.revision,
        "shown": prepared.shown,
        "password": PASSWORD,
        "finding": keys,
        **reasons,
    }
    where = reverse("sign", kwargs={"uuid": done.pk})
    refused = crew.post(where, form)
    assert refused.status_code == 422
    assert [each.control for each in refused.context["faults"]] == ["used-aside"]
    assert not SignedRecord.objects.for_firm(firm).exists()
    assert crew.post(where, form | {"used-aside": "yes"}).status_code == 302
    entries = AuditEntry.objects.for_firm(firm).filter(treatment=done, by=member.user)
    said = "Set aside, and signed as really used: Sample Moss Wash, lot L-0457"
    assert entries.filter(reason=said).count() == 1


def test_of_a_correction_nothing_is_said_for_it_was_used(crew, done, aside, member):
    sign_now(done, member)
    draft = start_correction(done, member.user, "the gauge was misread")
    assert everywhere(crew, draft) == [False] * 4


def test_another_firms_lot_of_that_number_says_nothing_here(crew, done, stranger):
    lot = LotFactory(firm=stranger.firm, number="L-0457", label__product__name="Sample Moss Wash")
    StockMoveFactory(
        lot=lot, kind="set-aside", amount=None, on=date(2026, 9, 13), why="notice R-17", by=stranger.user
    )
    assert everywhere(crew, done) == [False] * 4


def test_over_the_api_it_is_told_before_it_is_signed_and_asked_for_too(crew, firm, done, aside, member):
    where = reverse("api_sign", kwargs={"uuid": done.pk})
    told = crew.get(where).json()
    assert told["lots_aside"] == [
        {"lot": "L-0457", "product": "Sample Moss Wash", "why": "notice R-17 of the supplier"}
    ]
    answers = [{"rule": each["rule"], "about": each["about"], "reason": "so"} for each in told["open_findings"]]
    body = {"revision": told["revision"], "shown": told["shown"], "password": PASSWORD, "declares": True}

    def sign(key: str, **more: bool):
        sent = {**body, "answers": answers, **more}
        return crew.post(where, sent, content_type="application/json", headers={"Idempotency-Key": key})

    refused = sign("one")
    assert (refused.status_code, "L-0457" in refused.json()["detail"]) == (409, True)
    assert sign("two", used_aside=True).status_code == 201
    assert SignedRecord.objects.for_firm(firm).count() == 1
