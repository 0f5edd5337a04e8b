"""A real Chromium at the widths of a phone and a desk, and members who are signed in in it."""

from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest
from django.conf import settings
from django.test import Client
from playwright.sync_api import Browser, Page, Playwright, expect, sync_playwright

from records.models import Membership, Treatment
from records.services.planning import plan_treatment
from shared import clock
from tests.browser.chromium import executable
from tests.browser.line import Line
from tests.browser.phone import keep_all, set_up_for_signing

PHONE, DESK = 390, 1280
WIDTHS = (PHONE, DESK)
A_CAMERA = ["--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream"]
"""Chromium's own, which shows a pattern, and which every page may use."""

OpenPage = Callable[..., Page]

expect.set_options(timeout=15_000)


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    with sync_playwright() as playwright:
        yield playwright


@pytest.fixture(scope="session")
def chromium(playwright: Playwright) -> Iterator[Browser]:
    browser = playwright.chromium.launch(executable_path=executable(playwright), args=A_CAMERA)
    yield browser
    browser.close()


@pytest.fixture
def open_page(chromium: Browser, live_server) -> Iterator[OpenPage]:
    """Opens a page of the running site: `open_page(member, width=390, language="en", scripts=True)`.

    With `keeps` it keeps pages to be opened without a signal, as a phone does; `address` stands for the site's.
    Whatever the browser refuses or trips over on it (a script, a style, a missing file) fails the test.
    """
    contexts, complaints = [], []

    def open_(
        member: Membership | None = None,
        width: int = PHONE,
        language: str = "en",
        scripts: bool = True,
        keeps: bool = False,
        address: str = "",
    ) -> Page:
        context = chromium.new_context(
            base_url=address or live_server.url,
            viewport={"width": width, "height": 844},
            locale=language,
            java_script_enabled=scripts,
            service_workers="allow" if keeps else "block",
        )
        contexts.append(context)
        if member:
            client = Client()
            client.force_login(member.user)
            cookie = client.cookies[settings.SESSION_COOKIE_NAME].value
            session = {"name": settings.SESSION_COOKIE_NAME, "value": cookie, "url": live_server.url}
            context.add_cookies([session])
        page = context.new_page()
        page.set_default_timeout(10_000)
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.on("console", lambda said: complaints.append(said.text) if is_refusal(said.text) else None)
        return page

    yield open_
    for context in contexts:
        context.close()
    assert complaints == []


def is_refusal(text: str) -> bool:
    return "Content Security Policy" in text or "Refused to" in text


@pytest.fixture
def today(firm, member, plan) -> Treatment:
    """A treatment of today, by the clock of this machine: the browser has no other."""
    return plan_treatment(firm, member.user, replace(plan, planned_at=clock.now()))


@pytest.fixture
def line(live_server) -> Iterator[Line]:
    with Line(live_server.thread.port) as line:
        yield line


@pytest.fixture
def with_signal(open_page: OpenPage, member, today, line) -> Page:
    """A phone on which Today was opened, and everything is kept."""
    page = open_page(member, keeps=True, address=line.address)
    keep_all(page)
    return page


@pytest.fixture
def with_key(open_page: OpenPage, member, today, line) -> Page:
    """A phone that is set up for signing without a signal, and on which everything is kept."""
    page = open_page(member, keeps=True, address=line.address)
    set_up_for_signing(page)
    keep_all(page)
    return page


@pytest.fixture
def phone(with_signal: Page, line) -> Page:
    """Everything is kept, and then the signal is gone."""
    line.cut()
    return with_signal
