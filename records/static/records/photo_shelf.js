/* Photos that were taken on this device and are not in the record yet: kept until the server has each of them
   whole and named, for the person who took them and for nobody else. Sent in pieces: what has come stays. */
window.photoShelf = (() => {
  "use strict";
  const PIECE = 262144;
  const RETRY_AFTER_MS = 5000;
  const PATIENCE_MS = 30000;
  const MOST_TURNS = 3;
  const progress = new Map(); // key -> { state, share, words }
  const failures = new Map(); // key -> how often it found no answer
  let timer = null;
  let sending = false;
  let asked = false;

  const works = Boolean(window.indexedDB && window.crypto?.subtle);
  const person = () => document.body.dataset.person;
  const tell = () => document.dispatchEvent(new Event("photos:changed"));

  function done(request) {
    return new Promise((answer, refuse) => {
      request.onsuccess = () => answer(request.result);
      request.onerror = () => refuse(request.error);
    });
  }

  async function shelf(mode, act) {
    const opening = indexedDB.open("photos", 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore("photos", { keyPath: "key" });
    const base = await done(opening);
    try {
      const turn = base.transaction("photos", mode);
      const kept = new Promise((answer, refuse) => {
        turn.oncomplete = answer;
        turn.onabort = () => refuse(turn.error);
      });
      const answer = await done(act(turn.objectStore("photos")));
      await kept;
      return answer;
    } finally {
      base.close();
    }
  }

  /* The person's photos: all, or those of one treatment; the first taken first. */
  async function waiting(treatment) {
    if (!works || !person()) return [];
    const beginning = `${person()}/${treatment ? `${treatment}/` : ""}`;
    const range = IDBKeyRange.bound(beginning, `${beginning}\uffff`);
    const found = await shelf("readonly", (photos) => photos.getAll(range));
    return found.sort((one, other) => one.keptAt - other.keptAt);
  }

  const incidentOf = (document, path) => document.incidents?.find(({ id }) => path === `incidents[${id}]`);

  /* Names the treatment's photos in its document as the server will once they have come. */
  async function nameIn(treatment, document) {
    const zone = document.site?.time_zone ?? "UTC";
    for (const { step, sha256, mediaType, bytes, takenAt: at } of await waiting(treatment)) {
      const shown = document.protection?.find((each) => each.step === step) ?? incidentOf(document, step);
      if (!shown || !mediaType || shown.evidence?.some((each) => each.sha256 === sha256)) continue;
      const named = { sha256, media_type: mediaType, bytes, taken_at: reading.momentIn(zone, Date.parse(at)) };
      shown.evidence = [...(shown.evidence ?? []), named];
    }
  }

  /* Whether a photo of the treatment is still going to be named: what was signed here with it waits for that. */
  async function mayCome(treatment) {
    const states = (await waiting(treatment)).map(({ key }) => progress.get(key)?.state ?? "kept");
    return states.some((state) => ["kept", "offline", "later", "sending", "signedOut"].includes(state));
  }

  async function drop(key) {
    await shelf("readwrite", (photos) => photos.delete(key));
    progress.delete(key);
    failures.delete(key);
    tell();
  }

  const hex = (bytes) => [...new Uint8Array(bytes)].map((byte) => byte.toString(16).padStart(2, "0")).join("");

  /* A camera's file says when it was made, by the clock of this device; none was made after now. */
  function takenAt(file) {
    const ahead = Date.now() - (window.clockHere?.now() ?? Date.now());
    return new Date(Math.min(file.lastModified || Date.now(), Date.now()) - ahead).toISOString();
  }

  function mediaTypeOf(bytes) {
    const start = hex(bytes.slice(0, 4));
    return { "89504e47": "image/png" }[start] ?? (start.startsWith("ffd8ff") ? "image/jpeg" : "");
  }

  /* Whether it begins as a JPEG or a PNG does: the server takes no other. */
  const isTaken = async (file) => mediaTypeOf(await file.slice(0, 4).arrayBuffer()) !== "";

  /* `about`: { treatment, number, step, title, address }. Refused where the device has no room. */
  async function keep(file, about) {
    const bytes = await file.arrayBuffer();
    const sha256 = hex(await crypto.subtle.digest("SHA-256", bytes));
    const key = `${person()}/${about.treatment}/${sha256}`;
    const known = { sha256, bytes: bytes.byteLength, mediaType: mediaTypeOf(bytes), takenAt: takenAt(file) };
    const photo = { ...about, ...known, key, keptAt: Date.now() };
    navigator.storage?.persist?.();
    await shelf("readwrite", (photos) => photos.put({ ...photo, blob: new Blob([bytes]) }));
    note(photo, "kept");
    send();
  }

  function note(photo, state, more = {}) {
    progress.set(photo.key, { state, ...more });
    tell();
  }

  /* Of the person who is signed in now, not of the page, which may have been kept for days. */
  const token = () => document.cookie.match(/(?:^|; )csrftoken=([^;]+)/)?.[1] ?? "";

  async function ask(address, options) {
    const headers = { "HX-Request": "true", "X-CSRFToken": token(), ...options.headers };
    const answer = await fetch(address, { ...options, headers, signal: AbortSignal.timeout(PATIENCE_MS) });
    document.dispatchEvent(new Event("line:answered"));
    const said = answer.headers.get("Content-Type")?.includes("json") ? await answer.json() : {};
    return { status: answer.status, ...said };
  }

  function announce({ address, sha256, bytes, step, takenAt: taken_at, key }) {
    const said = { sha256, bytes, step, taken_at, person: key.split("/")[0] };
    return ask(address, { method: "POST", body: JSON.stringify(said), headers: { "Content-Type": "application/json" } });
  }

  function sendPiece({ address, sha256, blob }, offset) {
    const body = blob.slice(offset, offset + PIECE);
    const headers = { "Content-Type": "application/octet-stream" };
    return ask(`${address}${sha256}/?offset=${offset}`, { method: "PATCH", body, headers });
  }

  const goesOn = ({ status, offset }) => (status === 200 || status === 409) && Number.isInteger(offset);

  function whyNot({ status, why, words }) {
    if (status >= 500 || status === 429) return { state: "later" };
    if (status === 401 || status === 403) return { state: "signedOut" };
    if (status === 404) return { state: "gone" };
    if (status === 409) return { state: why === "signed" ? "signed" : "noStep" };
    return { state: "refused", words };
  }

  /* Whether the record names it now. What was given up on the way begins anew. */
  async function sendOne(photo) {
    for (let turn = 0; turn < MOST_TURNS; turn += 1) {
      let answer = await announce(photo);
      if (answer.taken) return true;
      const known = goesOn(answer);
      while (goesOn(answer) && answer.offset < photo.bytes) {
        note(photo, "sending", { share: Math.floor((100 * answer.offset) / photo.bytes) });
        answer = await sendPiece(photo, answer.offset);
      }
      if (goesOn(answer) || (known && answer.status === 404)) continue;
      return note(photo, whyNot(answer).state, whyNot(answer));
    }
    return note(photo, "later");
  }

  /* Until one finds no connection: the others wait with it, and go before it next time. */
  async function sendAll() {
    const often = ({ key }) => failures.get(key) ?? 0;
    for (const photo of (await waiting()).sort((one, other) => often(one) - often(other))) {
      try {
        if (!(await sendOne(photo))) continue;
        await drop(photo.key);
        document.dispatchEvent(new CustomEvent("photos:sent", { detail: photo }));
      } catch {
        failures.set(photo.key, often(photo) + 1);
        note(photo, "offline");
        return sendLater();
      }
    }
    if ([...progress.values()].some(({ state }) => state === "later")) sendLater();
  }

  function sendLater() {
    clearTimeout(timer);
    timer = setTimeout(send, RETRY_AFTER_MS);
  }

  /* One page of this device at a time: another that is sending already goes on. */
  async function send() {
    asked = true;
    if (sending || !works || !person()) return;
    sending = true;
    while (asked) {
      asked = false;
      await navigator.locks.request("photos", { ifAvailable: true }, (turn) => (turn ? sendAll() : sendLater()));
    }
    sending = false;
    tell();
  }

  window.addEventListener("online", send);
  document.addEventListener("visibilitychange", () => !document.hidden && send());
  for (const again of ["DOMContentLoaded", "waiting:settled"]) document.addEventListener(again, send);
  document.addEventListener("htmx:afterRequest", (event) => {
    const saved = event.detail.successful && event.detail.requestConfig?.verb === "post";
    if (saved && [...progress.values()].some(({ state }) => state === "noStep")) send();
  });

  return { works, isTaken, keep, waiting, nameIn, mayCome, drop, send, progressOf: (key) => progress.get(key) ?? { state: "kept" } };
})();
