"""A treatment is stood down on its page, and that is taken back there."""

from django.urls import reverse


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
