"""Rules as they stood: kept versions of packs, and versions of the firm's own rules."""

from dataclasses import replace
from html import unescape

import pytest
import time_machine
from django.urls import reverse

from compliance.models import PackVersion
from compliance.own_rules import Group, Row
from compliance.services.own_rules import remove_rule, save_rule
from compliance.services.pack_history import kept_versions
from compliance.services.pack_keeping import note_packs_in_use
from tests.compliance.own import CALM
from tests.compliance.rulebook.builders import WIND, pack, rule

OLD = pack(rule(**WIND, title={"en": "Wind of old", "es": "Viento de antes"}))
NEW = pack(rule(**{**WIND, "max": "8 mph"}))


def text(client, name: str, **arguments: object) -> str:
    answer = client.get(reverse(name, kwargs=arguments))
    assert answer.status_code == 200
    return unescape(answer.content.decode())


@pytest.fixture
def kept(monkeypatch, db) -> list[PackVersion]:
    """The old version was in use in spring, the new one in summer, and since autumn the old one again."""
    for day, in_use in (("2026-03-01", OLD), ("2026-06-01", NEW), ("2026-09-01", OLD)):
        monkeypatch.setattr("compliance.services.pack_keeping.registered_packs", lambda used=in_use: (used,))
        with time_machine.travel(f"{day}T12:00:00Z", tick=False):
            note_packs_in_use()
    return list(PackVersion.objects.filter(pack=OLD.id))


def test_each_version_that_is_kept_says_from_when_until_when_it_was_in_use(kept):
    spans = {one.row.digest: [(span.since.month, span.until and span.until.month) for span in one.spans]
             for one in kept_versions(OLD.id)}  # fmt: skip
    assert spans == {OLD.digest: [(3, 6), (9, None)], NEW.digest: [(6, 9)]}


def test_a_manager_opens_a_kept_version_and_reads_its_rules_as_they_stood(client, colleague, kept):
    client.force_login(colleague.user)
    listed = text(client, "pack_versions", pack=OLD.id)
    assert OLD.digest in listed and NEW.digest in listed
    assert "In use since Sept. 1, 2026" in listed
    old, new = (
        text(client, "pack_version", pack=OLD.id, digest=one.digest.removeprefix("sha256:"))
        for one in (OLD, NEW)
    )
    assert "Wind of old" in old and "at most 10 mph" in old
    assert "It does not say what holds today." not in old
    assert "at most 8 mph" in new and "It does not say what holds today." in new


def test_a_version_that_is_not_kept_is_404(client, colleague, kept):
    client.force_login(colleague.user)
    for name, arguments in (
        ("pack_versions", {"pack": "us-zz"}),
        ("pack_version", {"pack": OLD.id, "digest": "0" * 64}),
        ("own_version", {"version": 7}),
    ):
        assert client.get(reverse(name, kwargs=arguments)).status_code == 404


def test_a_version_of_the_firms_rules_says_who_changed_what_from_what_to_what(client, firm, colleague):
    save_rule(firm, CALM, colleague.user, "a quiet street")
    roofs = Group((Row("surfaces[].kind", "is", "roof"),))
    stricter = replace(CALM, key="1", level="required", params={"quantity": "wind_speed", "max": "6 mph"},
                       groups=(roofs,), examples=CALM.examples[1:])  # fmt: skip
    save_rule(firm, stricter, colleague.user, "the neighbours wrote")
    remove_rule(firm, "1", colleague.user, "we moved")
    client.force_login(colleague.user)
    first, second, third = (text(client, "own_version", version=number) for number in (1, 2, 3))
    assert "J. Quill" in second and "the neighbours wrote" in second
    for before, after in (("at most 8 mph", "at most 6 mph"), ("advised", "required"), ("always", "roof")):
        assert f"{before}" in second.partition("What it changed")[2].partition("The rules as they stood")[0]
        assert f"{after}" in second.partition("What it changed")[2]
    assert "at most 8 mph" in first.partition("The rules as they stood")[2]
    assert "at most 6 mph" not in third.partition("The rules as they stood")[2]


def test_another_firms_version_is_not_found(client, firm, colleague, stranger):
    save_rule(firm, CALM, colleague.user, "")
    client.force_login(stranger.user)
    assert client.get(reverse("own_version", kwargs={"version": 1})).status_code == 404
