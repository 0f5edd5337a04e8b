"""What a program has already is not sent again, and what has changed meanwhile is not written over."""

import pytest
from django.urls import reverse

from tests.records.programs.calling import program


@pytest.fixture
def where(draft) -> str:
    return reverse("api_treatment", kwargs={"uuid": draft.pk})


def an_edit(draft, value: str) -> dict:
    return {"edits": [{"id": value, "path": "notes", "value": value, "base_revision": draft.revision}]}


def test_what_is_unchanged_is_answered_with_304_and_no_body(member, draft, where):
    made = program(member)
    tag = made.get(where)["ETag"]
    again = made.get(where, If_None_Match=f'"other", W/{tag}')
    assert (again.status_code, again.content, again["ETag"]) == (304, b"", tag)
    made.post(f"{where}edits/", an_edit(draft, "Gate was locked."))
    assert made.get(where, If_None_Match=tag).status_code == 200


def test_edits_for_what_has_changed_are_refused_and_for_what_has_not_are_done(member, draft, where):
    made = program(member)
    tag = made.get(where)["ETag"]
    assert made.post(f"{where}edits/", an_edit(draft, "Gate was locked."), If_Match=tag).status_code == 200
    refused = made.post(f"{where}edits/", an_edit(draft, "Gate was open."), If_Match=tag)
    assert refused.status_code == 412
    assert made.get(where).json()["document"]["notes"] == "Gate was locked."
    assert made.post(f"{where}edits/", an_edit(draft, "x"), If_Match="*").status_code == 200


def test_a_tag_that_compression_marked_weak_still_names_what_was_read(member, draft, where):
    made = program(member)
    tag = made.get(where, Accept_Encoding="gzip")["ETag"]
    assert tag.startswith("W/")
    assert made.post(f"{where}edits/", an_edit(draft, "Gate was locked."), If_Match=tag).status_code == 200
