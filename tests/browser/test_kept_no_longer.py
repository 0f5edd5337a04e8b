"""What a phone keeps goes when its person may no longer see it, and when it is older than thirty days."""

from datetime import timedelta

import pytest
from playwright.sync_api import Page, expect

from shared import clock
from tests.browser.phone import comes_to

pytestmark = pytest.mark.browser

KEPT_PAGES = """async () => {
  const pages = [];
  for (const name of (await caches.keys()).filter((each) => each.startsWith("pages-"))) {
    pages.push(...(await (await caches.open(name)).keys()).map(({ url }) => new URL(url).pathname));
  }
  return pages;
}"""
AGE = """async (at) => {
  for (const name of (await caches.keys()).filter((each) => each.startsWith("pages-"))) {
    const cache = await caches.open(name);
    for (const request of await cache.keys()) {
      const answer = await cache.match(request);
      const headers = new Headers(answer.headers);
      headers.set("X-Kept-At", at);
      await cache.put(request, new Response(await answer.blob(), { headers }));
    }
  }
}"""


def age(page: Page, days: float) -> None:
    page.evaluate(AGE, (clock.now() - timedelta(days=days)).isoformat())


def test_who_has_left_the_firm_keeps_none_of_its_pages_and_all_that_was_not_sent(with_signal, member, today):
    place = f"{member.user.pk}/{today.pk}"
    with_signal.evaluate(f"localStorage.setItem('typed:{place}/after/1', '{{}}')")
    with_signal.evaluate(f"localStorage.setItem('sent:{place}/after/1', '{{}}')")
    assert with_signal.evaluate(KEPT_PAGES)
    member.delete()
    with_signal.goto("/")
    expect(with_signal.get_by_role("heading", name="Your role does not open this page")).to_be_visible()
    comes_to(with_signal, KEPT_PAGES, [])
    here = with_signal.evaluate("Object.keys(localStorage).filter((key) => /^(typed|sent):/.test(key))")
    assert here == [f"typed:{place}/after/1"]


@pytest.mark.long
def test_who_only_inspects_from_now_on_keeps_none_of_its_pages(with_signal, member):
    assert with_signal.evaluate(KEPT_PAGES)
    member.role = "inspector"
    member.save()
    with_signal.goto("/")
    comes_to(with_signal, KEPT_PAGES, [])


def test_a_page_of_more_than_thirty_days_is_not_shown_and_is_deleted(with_signal, line):
    age(with_signal, 30.1)
    line.cut()
    with_signal.goto("/")
    expect(with_signal.get_by_role("heading", level=1)).to_have_text("No connection")
    comes_to(with_signal, KEPT_PAGES, [])


@pytest.mark.long
def test_a_page_of_not_quite_thirty_days_is_shown(with_signal, line):
    age(with_signal, 29.9)
    line.cut()
    with_signal.goto("/")
    expect(with_signal.locator("#kept-page")).to_contain_text("This page is from this device")
    assert "/" in with_signal.evaluate(KEPT_PAGES)
