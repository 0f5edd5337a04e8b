"""A section of the form takes only what a form could have sent."""

import pytest
from django.urls import reverse

from tests.records.services.test_drafts import reread


@pytest.fixture(autouse=True)
def signed_in(client, member) -> None:
    client.force_login(member.user)


def post(client, draft, **fields: str):
    address = reverse("section", kwargs={"uuid": draft.pk, "section": "after"})
    page = {"base_revision": str(draft.revision), "form": "f", "v:notes": "dry", "was:notes": '[""]'}
    return client.post(address, {**page, **fields})


@pytest.mark.parametrize("revision", ["²", "9" * 5000, "-1", "soon", ""])
def test_a_revision_that_is_none_counts_as_the_oldest(client, draft, revision):
    post(client, draft, base_revision=revision, **{"base:notes": revision})
    assert reread(draft).document["notes"] == "dry"


def test_brackets_without_end_in_a_hidden_field_count_as_nothing(client, draft):
    post(client, draft, **{"was:notes": "[" * 100_000})
    assert reread(draft).document["notes"] == "dry"


def test_a_text_longer_than_is_kept_is_refused_with_its_fault(client, draft):
    answer = post(client, draft, **{"v:notes": "x" * 30_000})
    assert (answer.status_code, answer.text) == (400, "notes: expected at most 20000 characters, got 30000")
    assert reread(draft).revision == draft.revision
