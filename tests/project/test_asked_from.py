"""Which computer a request is counted for."""

import pytest
from allauth.account.adapter import get_adapter
from django.urls import reverse

from records.asked_from import asked_from
from tests.factories import PASSWORD


@pytest.mark.parametrize(
    ("proxies", "forwarded", "counted"),
    [
        (0, "192.0.2.7", "10.0.0.1"),
        (1, "192.0.2.66, 192.0.2.7", "192.0.2.7"),
        (1, "192.0.2.7:5123", "192.0.2.7"),
        (2, "192.0.2.66, 192.0.2.7, 10.0.0.2", "192.0.2.7"),
        (2, "192.0.2.7", "10.0.0.1"),
        (1, "", "10.0.0.1"),
        (1, "nobody", "unknown"),
        (1, "2001:db8:0:1:ffff::7", "2001:db8:0:1::"),
        (1, "[2001:db8:0:1::9]:443", "2001:db8:0:1::"),
        (1, "::ffff:192.0.2.7", "192.0.2.7"),
    ],
)
def test_it_is_what_the_outermost_of_our_own_proxies_saw(settings, proxies, forwarded, counted):
    settings.TRUSTED_PROXIES = proxies
    assert asked_from({"REMOTE_ADDR": "10.0.0.1", "HTTP_X_FORWARDED_FOR": forwarded}) == counted


def test_a_strangers_wrong_passwords_keep_nobody_else_behind_the_same_proxy_from_signing_in(
    client, member, settings
):
    settings.TRUSTED_PROXIES = 1

    def sign_in(email: str, password: str, whence: str):
        form = {"login": email, "password": password}
        return client.post(reverse("account_login"), form, headers={"X-Forwarded-For": whence})

    wrong = [sign_in(f"nobody{n}@example.net", "x", "198.51.100.1") for n in range(11)]
    assert "Too many" in wrong[-1].text
    assert "Too many" in sign_in("nobody@example.net", "x", "203.0.113.5, 198.51.100.1").text
    assert sign_in(member.user.email, PASSWORD, "203.0.113.9").status_code == 302


def test_who_signs_in_from_no_address_is_let_in(rf):
    assert get_adapter().get_client_ip(rf.get("/", REMOTE_ADDR="")) == "unknown"
