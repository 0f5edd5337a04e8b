/* Keeps the pages of the coming days on this device, for the person who is signed in and for nobody else. */
(() => {
  "use strict";
  if (!("serviceWorker" in navigator) || !window.caches) return;
  const { person, signsIn, toKeep, serviceWorker } = document.body.dataset;
  const QUIET_MS = 3000;
  let timer = null;
  const mine = `pages-${person}`;

  /* Whoever signs in or out here: what was kept for somebody else goes. */
  async function forgetOthers() {
    const others = (await caches.keys()).filter((name) => name.startsWith("pages-") && name !== mine);
    await Promise.all(others.map((name) => caches.delete(name)));
    for (const key of Object.keys(localStorage)) {
      if (key.startsWith("sent:") && !key.startsWith(`sent:${person}/`)) localStorage.removeItem(key);
    }
  }

  async function stamped(answer, version) {
    const headers = new Headers(answer.headers);
    headers.set("X-Kept-Version", version);
    headers.set("X-Kept-At", new Date().toISOString());
    return new Response(await answer.blob(), { headers });
  }

  async function keepPage(cache, { address, version }) {
    const there = await cache.match(address);
    if (there?.headers.get("X-Kept-Version") === version) return;
    const answer = await fetch(address);
    if (answer.ok && !answer.redirected) await cache.put(address, await stamped(answer, version));
  }

  /* One after the other: a weak signal carries the soonest first. */
  async function keep() {
    const asked = Date.now();
    const answer = await fetch(toKeep);
    if (!answer.ok) return;
    const { pages, now } = await answer.json();
    clockHere.compare(now, asked, Date.now());
    clockHere.say();
    const cache = await caches.open(mine);
    const wanted = new Set(pages.map(({ address }) => new URL(address, location.origin).href));
    for (const request of await cache.keys()) if (!wanted.has(request.url)) await cache.delete(request);
    for (const key of Object.keys(localStorage)) {
      if (key.startsWith("sent:") && ![...wanted].some((page) => page.includes(key.split("/")[1]))) localStorage.removeItem(key);
    }
    for (const page of pages) await keepPage(cache, page);
    document.documentElement.dataset.kept = "all";
  }

  function sayOfWhen() {
    const at = document.documentElement.dataset.keptAt;
    const note = document.getElementById("kept-page");
    if (!at || !note) return;
    const time = new Date(at).toLocaleString(document.documentElement.lang, { dateStyle: "medium", timeStyle: "short" });
    note.textContent = note.dataset.words.replace("TIME", time);
    note.hidden = false;
  }

  async function begin() {
    sayOfWhen();
    if (person || signsIn !== undefined) await forgetOthers();
    if (!person) return;
    await navigator.serviceWorker.register(serviceWorker);
    await navigator.serviceWorker.ready;
    if (toKeep && navigator.onLine && !document.documentElement.dataset.keptAt) await keep();
  }

  const tryKeeping = () => begin().catch(() => {
    /* Without a connection, or without room, what was kept before stays. */
  });
  document.addEventListener("DOMContentLoaded", tryKeeping);
  /* What was saved stands in the kept pages, too, once it has been quiet for a moment. */
  document.addEventListener("htmx:afterRequest", (event) => {
    if (!event.detail.successful || event.detail.requestConfig?.verb !== "post") return;
    clearTimeout(timer);
    timer = setTimeout(tryKeeping, QUIET_MS);
  });
  window.addEventListener("online", tryKeeping);
})();
