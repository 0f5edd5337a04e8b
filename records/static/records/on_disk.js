/* What was typed or signed here and is not sent yet is on the disk at once, and so is this device's key. The browser's
   quick storage (localStorage) may reach it as late as a minute after; so each row stands in a base (IndexedDB), too,
   and what the quick storage has lost because the phone went off is put back when a page opens. */
window.onDisk = (() => {
  "use strict";
  const KEPT = /^(typed|sealed|reasons|device-key):/;
  const GONE = "gone:"; // taken off the quick storage, and in the base perhaps not yet
  const PATIENCE_MS = 3000;
  const writes = new Set();
  let base = null;

  function open() {
    return new Promise((answer, refuse) => {
      const opening = indexedDB.open("on-disk", 1);
      opening.onupgradeneeded = () => opening.result.createObjectStore("rows");
      opening.onsuccess = () => answer(opening.result);
      opening.onerror = () => refuse(opening.error);
    });
  }

  /* Commits at once, so that the page may be left; done when it is on the disk. */
  function carryOut(there, act) {
    return new Promise((answer, refuse) => {
      const turn = there.transaction("rows", "readwrite", { durability: "strict" });
      act(turn.objectStore("rows"));
      turn.oncomplete = answer;
      turn.onabort = () => refuse(turn.error);
      turn.commit();
    });
  }

  function write(act) {
    const written = base ? carryOut(base, act) : opened.then((there) => carryOut(there, act));
    writes.add(written);
    written.finally(() => writes.delete(written)).catch(() => {});
    return written;
  }

  /* Later ones are greater. Not crypto.randomUUID: that is missing where the site is served without TLS. */
  const stamp = () => Date.now().toString(36) + Math.random().toString(36).slice(2);

  /* `change` says which of two states of the row is the later one. Throws where the quick storage has no room. */
  function put(key, row, change = stamp()) {
    putText(key, JSON.stringify({ ...row, change }));
  }

  function putText(key, text) {
    localStorage.setItem(key, text);
    localStorage.removeItem(GONE + key);
    write((rows) => rows.put(text, key)).catch(() => {});
  }

  function drop(key) {
    localStorage.removeItem(key);
    localStorage.setItem(GONE + key, "");
    takeOff(key);
  }

  function takeOff(key) {
    write((rows) => rows.delete(key)).then(() => localStorage.removeItem(GONE + key)).catch(() => {});
  }

  function readAll(there) {
    return new Promise((answer, refuse) => {
      const rows = new Map();
      const reading = there.transaction("rows").objectStore("rows").openCursor();
      reading.onerror = () => refuse(reading.error);
      reading.onsuccess = () => {
        const row = reading.result;
        if (!row) return answer(rows);
        rows.set(row.key, row.value);
        row.continue();
      };
    });
  }

  const changeOf = (text) => JSON.parse(text).change ?? "";

  /* Whether the base has what the quick storage has lost: a row, or what was typed into it last. */
  function isLost(key, text) {
    if (localStorage.getItem(GONE + key) !== null) return false;
    const quick = localStorage.getItem(key);
    return quick === null || changeOf(quick) < changeOf(text);
  }

  async function bringInLine() {
    const rows = await readAll(await opened);
    const lost = [...rows].filter(([key, text]) => isLost(key, text));
    for (const [key, text] of lost) localStorage.setItem(key, text);
    for (const key of Object.keys(localStorage)) {
      const text = localStorage.getItem(key);
      if (key.startsWith(GONE)) takeOff(key.slice(GONE.length));
      else if (KEPT.test(key) && rows.get(key) !== text) putText(key, text);
    }
    if (!lost.length) return;
    location.reload();
    await new Promise(() => {}); // nothing is brought back on a page that goes
  }

  async function written() {
    while (writes.size) await Promise.allSettled([...writes]);
  }

  const opened = open().then((there) => (base = there));
  const broughtInLine = opened.then(bringInLine).catch(() => {
    /* Without a base the quick storage alone keeps it. */
  });
  /* Who brings back or sends what was typed waits for it, but not for a base that does not open. */
  const inLine = Promise.race([broughtInLine, new Promise((goOn) => setTimeout(goOn, PATIENCE_MS))]);

  return { put, drop, stamp, written, inLine };
})();
