{% autoescape off %}/* Opens a page that is kept on this device when the network does not answer in time. It keeps no page itself. */
"use strict";
const SHELL = "shell-{{ version }}";
const FILES = {{ files }};
const [NO_ANSWER, NOT_KEPT] = FILES.slice(-2);
const PATIENCE_MS = 4000;
const OLDEST_MS = 30 * 24 * 60 * 60 * 1000; // the pages delete what is older

self.addEventListener("install", (event) => {
  const shell = FILES.map((file) => new Request(file, { credentials: "omit", cache: "reload" }));
  event.waitUntil(caches.open(SHELL).then((cache) => cache.addAll(shell)).then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  const old = (names) => names.filter((name) => name.startsWith("shell-") && name !== SHELL);
  const tidy = caches.keys().then((names) => Promise.all(old(names).map((name) => caches.delete(name))));
  event.waitUntil(tidy.then(() => self.clients.claim()));
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (address.origin !== location.origin) return;
  if (request.mode === "navigate" && request.method === "POST") event.respondWith(sent(request));
  if (request.method !== "GET") return;
  if (request.mode === "navigate") event.respondWith(page(request, address));
  else if (FILES.includes(address.pathname)) event.respondWith(file(request));
});

async function sent(request) {
  try {
    return await fetch(request);
  } catch {
    return (await caches.open(SHELL)).match(NO_ANSWER);
  }
}

async function file(request) {
  const shell = await caches.open(SHELL);
  return (await shell.match(request, { ignoreSearch: true })) ?? fetch(request);
}

async function page(request, address) {
  const kept = await keptPage(address);
  const late = new Promise((_answer, refuse) => kept && setTimeout(refuse, PATIENCE_MS));
  try {
    const answer = await Promise.race([fetch(request), late]);
    if (answer.status < 500 || !kept) return answer;
  } catch {
    if (!kept) return (await caches.open(SHELL)).match(NOT_KEPT);
  }
  return asKept(kept);
}

async function keptPage(address) {
  for (const name of await caches.keys()) {
    if (!name.startsWith("pages-")) continue;
    const kept = await (await caches.open(name)).match(address.pathname);
    if (kept && Date.now() - Date.parse(kept.headers.get("X-Kept-At")) < OLDEST_MS) return kept;
  }
  return null;
}

/* The page says itself that it comes from this device, and of when it is. */
async function asKept(kept) {
  if (!kept.headers.get("Content-Type")?.startsWith("text/html")) return kept;
  const at = kept.headers.get("X-Kept-Time") ?? kept.headers.get("X-Kept-At");
  const text = (await kept.text()).replace("<html ", `<html data-kept-at="${at}" `);
  return new Response(text, { headers: { "Content-Type": "text/html; charset=utf-8", "Content-Security-Policy": kept.headers.get("Content-Security-Policy") } });
}
{% endautoescape %}
