"""What is sent to the API is read as strictly as a document."""

import pytest
from django.urls import reverse


@pytest.fixture(autouse=True)
def signed_in(client, member) -> None:
    client.force_login(member.user)


def kept(client, draft) -> dict:
    return client.get(reverse("api_treatment", kwargs={"uuid": draft.pk})).json()


def sent(client, draft, body: object):
    """The answer to a body as text, or to one that is made JSON."""
    return client.post(reverse("api_edits", kwargs={"uuid": draft.pk}), body, "application/json")


def body(draft, value: str, path: str = '"notes"') -> str:
    return (
        f'{{"edits": [{{"id": "e", "path": {path}, "value": {value}, "base_revision": {draft.revision}}}]}}'
    )


@pytest.mark.parametrize(
    ("value", "says"),
    [
        ('"half \\ud800"', "half of a character"),
        ('"zero \\u0000"', "a control character (U+0000)"),
        ("[" * 5000 + "]" * 5000, "nested more than 24 levels deep"),
        ("[" * 21 + "]" * 21, "nested more than 20 levels deep"),
        ('"once", "value": "twice"', "is written more than once in the same object"),
        ("NaN", "NaN is not a JSON value"),
        ("9" * 5000, "too many digits"),
        (f'"{"x" * 1_100_000}"', "at most 1048576 bytes are read"),
        (f'"{"x" * 3_000_000}"', "at most 2097152 bytes are read"),
        ("moss", "this is not JSON"),
    ],
    ids=lambda text: text[:30],
)
def test_what_could_not_be_kept_is_refused_in_words(client, draft, value, says):
    answer = sent(client, draft, body(draft, value))
    assert (answer.status_code, says in answer.text) == (400, True)
    assert kept(client, draft)["revision"] == draft.revision


@pytest.mark.parametrize("path", ["__proto__", "firm .name", "[0]", "surfaces[²].name", "surfaces[\\ud800]"])
def test_a_path_that_names_no_member_is_refused_in_words(client, draft, path):
    answer = sent(client, draft, body(draft, '"x"', f'"{path}"'))
    assert answer.status_code == 400
    assert kept(client, draft)["unread"] == {}


@pytest.mark.parametrize("revision", [-1, 2**31, 10**30, "²", "9" * 5000])
def test_a_revision_that_there_cannot_be_is_refused(client, draft, revision):
    edit = {"id": "e", "path": "notes", "value": "x", "base_revision": revision}
    assert sent(client, draft, {"edits": [edit]}).status_code == 400


def test_more_edits_than_are_taken_at_once_are_refused(client, draft):
    edit = {"path": "notes", "value": "x", "base_revision": draft.revision}
    edits = [{**edit, "id": str(number)} for number in range(201)]
    assert sent(client, draft, {"edits": edits}).status_code == 400
    assert kept(client, draft)["revision"] == draft.revision
