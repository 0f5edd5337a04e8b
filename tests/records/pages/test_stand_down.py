"""A treatment is stood down on its page, and that is taken back there."""

from django.urls import reverse

from compliance.services.signing import prepare, sign_treatment
from records.services.to_sign import Signer
from tests.factories import PASSWORD


def test_a_stand_down_is_taken_back(client, draft, member):
    client.force_login(member.user)
    address = reverse("stand_down", kwargs={"uuid": draft.pk})
    client.post(address, {"why": "wind"})
    draft.refresh_from_db()
    assert draft.document["record"]["result"] == "stood-down"
    assert "take_back" in client.get(reverse("treatment", kwargs={"uuid": draft.pk})).content.decode()
    client.post(address, {"take_back": "yes"})
    draft.refresh_from_db()
    assert {"result", "why"} & set(draft.document["record"]) == set()


def test_a_record_that_is_signed_is_shown_instead_of_the_page_that_would_stand_it_down(client, done, member):
    client.force_login(member.user)
    address = reverse("stand_down", kwargs={"uuid": done.pk})
    assert client.get(address).status_code == 200
    findings = prepare(done, Signer(member.user)).open_findings
    reasons = [{"rule": each["rule"], "about": each["about"], "reason": "as it was"} for each in findings]
    sign_treatment(done, member.user, PASSWORD, reasons)
    for role in ("crew", "office"):
        member.role = role
        member.save()
        assert client.get(address)["Location"] == reverse("treatment", kwargs={"uuid": done.pk})
