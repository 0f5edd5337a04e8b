"""A body larger than any page or photo needs is refused before it is read."""

import pytest
from django.urls import reverse

from project.middleware import LARGEST_BODY


@pytest.mark.parametrize("length", [str(LARGEST_BODY + 1), "a lot", "-1"])
def test_too_large_a_body_is_not_listened_to_whoever_sends_it(client, length):
    assert client.post(reverse("account_login"), {}, CONTENT_LENGTH=length).status_code == 413


@pytest.mark.django_db
def test_an_ordinary_form_is(client):
    assert client.post(reverse("account_login"), {}).status_code == 200
