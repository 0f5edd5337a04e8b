"""The machine's log tells of no address whose end is a secret."""

import logging
from uuid import uuid4

from django.urls import get_resolver, reverse
from django.utils.module_loading import import_string

from project.settings import LOGGING
from tests.project.test_addresses import patterns

SECRET = "2dc97e983f34fbe7a4941b60ff5b1f16"


def line(address: str) -> str:
    formatter = import_string(LOGGING["formatters"]["line"]["()"])()
    told = logging.LogRecord("django.request", logging.WARNING, "", 0, "%s: %s", ("Not Found", address), None)
    return formatter.format(told)


def test_no_token_of_an_address_stands_in_the_log():
    names = {each.name for each in patterns(get_resolver()) if each.name and "token" in str(each.pattern)}
    addresses = [reverse("account_reset_password_from_key", kwargs={"uidb36": "3", "key": SECRET})]
    for name in names:
        wanted = get_resolver().reverse_dict[name][0][0][1]
        given = {"uuid": uuid4(), "token": SECRET}
        addresses.append(reverse(name, kwargs={each: given[each] for each in wanted}))
    assert names >= {"handed", "told", "proof", "proof_file", "invitation"}
    for address in addresses:
        assert SECRET in address
        assert SECRET not in line(address)
        assert SECRET not in line(f"http://here{address}x/y")


def test_an_address_without_a_secret_is_told_whole():
    address = f"/treatments/{uuid4()}/"
    assert line(address).endswith(f"WARNING django.request Not Found: {address}")
