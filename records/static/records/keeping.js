/* Keeps the pages of the coming days on this device, for the person who is signed in and for nobody else. */
(() => {
  "use strict";
  if (!("serviceWorker" in navigator) || !window.caches) return;
  const { person, signsIn, toKeep, serviceWorker } = document.body.dataset;
  const QUIET_MS = 2000;
  const RETRY_AFTER_MS = 15000;
  const PATIENCE_MS = 30000;
  const OLDEST_MS = 30 * 24 * 60 * 60 * 1000; // the service worker shows none that is older
  const REFUSED = 403;
  let timer = null;
  let runs = 0; // of this page, of which only the last goes on
  const mine = `pages-${person}`;

  async function forget(isTheirs) {
    const pages = (await caches.keys()).filter((name) => name.startsWith("pages-") && isTheirs(name.slice("pages-".length)));
    await Promise.all(pages.map((name) => caches.delete(name)));
    for (const key of Object.keys(localStorage)) {
      if (key.startsWith("sent:") && isTheirs(key.slice("sent:".length).split("/")[0])) localStorage.removeItem(key);
    }
  }

  /* Whoever signs in or out here: what was kept for somebody else goes. */
  const forgetOthers = () => forget((whose) => whose !== person);

  /* Who may no longer fill in the firm's treatments has none of them here. What was typed and not sent stays. */
  const forgetMine = () => forget((whose) => whose === person);

  async function forgetOld() {
    for (const name of (await caches.keys()).filter((each) => each.startsWith("pages-"))) {
      const cache = await caches.open(name);
      for (const request of await cache.keys()) {
        const at = (await cache.match(request))?.headers.get("X-Kept-At");
        if (!(Date.now() - Date.parse(at) < OLDEST_MS)) await cache.delete(request);
      }
    }
  }

  async function stamped(answer, version) {
    const headers = new Headers(answer.headers);
    headers.set("X-Kept-Version", version);
    headers.set("X-Kept-At", new Date().toISOString());
    headers.set("X-Kept-Time", new Date(clockHere.now()).toISOString()); // by the right clock, for people
    return new Response(await answer.blob(), { headers });
  }

  /* Null where the server fails or does not answer. */
  async function ask(address) {
    const answer = await fetch(address, { signal: AbortSignal.timeout(PATIENCE_MS) }).catch(() => null);
    return answer?.status < 500 ? answer : null;
  }

  /* What is at hand first, then what else this device has of the treatment. */
  function hereFirst(pages) {
    const treatment = location.pathname.match(/^\/treatments\/[^/]+\//)?.[0];
    const rank = ({ address }) => [location.pathname, `${treatment}sheet/`].includes(address) ? 0 : treatment && address.startsWith(treatment) ? 1 : 2;
    return [...pages].sort((one, other) => rank(one) - rank(other));
  }

  async function keepPage(cache, { address, version }, goesOn) {
    const there = await cache.match(address);
    if (there?.headers.get("X-Kept-Version") === version) return true;
    const answer = goesOn() ? await ask(address) : null;
    if (answer?.ok && !answer.redirected) await cache.put(address, await stamped(answer, version));
    return answer !== null;
  }

  /* One after the other: a weak signal carries the soonest first. What the server fails on is asked for again. */
  async function keep(goesOn) {
    if (!goesOn()) return;
    const asked = Date.now();
    const sentBefore = Object.entries(localStorage).filter(([key]) => key.startsWith(`sent:${person}/`));
    const answer = await ask(toKeep);
    if (!goesOn()) return;
    if (!answer) return keepLater(RETRY_AFTER_MS);
    if (answer.status === REFUSED) return forgetMine();
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
    let all = true;
    let kept = 0;
    for (const page of hereFirst(pages)) {
      sayHowMuch(kept, pages.length);
      const isKept = await keepPage(cache, page, goesOn);
      if (!goesOn()) return;
      if (isKept) kept += 1;
      else all = false;
    }
    sayHowMuch(kept, pages.length);
    if (!all) return keepLater(RETRY_AFTER_MS);
    for (const [key, entry] of sentBefore) if (localStorage.getItem(key) === entry) localStorage.removeItem(key);
    document.documentElement.dataset.kept = "all";
  }

  /* One run at a time on this device: a later one of this page ends the one before it, which ends with its page. */
  function keepInTurn() {
    const run = ++runs;
    return navigator.locks.request("keeping", () => keep(() => run === runs));
  }

  function sayHowMuch(kept, all) {
    const place = document.getElementById("kept-so-far");
    if (!place) return;
    const { part, whole } = place.dataset;
    place.textContent = kept === all ? whole : part.replace("KEPT", kept).replace("ALL", all);
    place.hidden = false;
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
    await forgetOld();
    if (person || signsIn !== undefined) await forgetOthers();
    if (!person) return;
    await navigator.serviceWorker.register(serviceWorker);
    await navigator.serviceWorker.ready;
    if (toKeep && navigator.onLine && !document.documentElement.dataset.keptAt) await keepInTurn();
  }

  const tryKeeping = () => begin().catch(() => {
    /* Without room what was kept before stays. */
  });

  function keepLater(after) {
    clearTimeout(timer);
    timer = setTimeout(tryKeeping, after);
  }

  /* A page of this device through which something was sent has a connection again. */
  function sayNoMore() {
    const note = document.getElementById("kept-page");
    if (note) note.hidden = true;
  }

  document.addEventListener("DOMContentLoaded", tryKeeping);
  document.addEventListener("line:answered", sayNoMore);
  /* What was saved stands in the kept pages, too, once it has been quiet for a moment. */
  document.addEventListener("htmx:afterRequest", (event) => {
    if (!event.detail.successful || event.detail.requestConfig?.verb !== "post") return;
    sayNoMore();
    delete document.documentElement.dataset.kept;
    runs += 1; // what is being kept is out of date already
    keepLater(QUIET_MS);
  });
  window.addEventListener("online", tryKeeping);
})();
