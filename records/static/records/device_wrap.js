/* A second lock around what this device keeps: its key (AES-GCM) stands in this browser's base (IndexedDB), where no
   script can read it out, so that a row that it locks is of no use where it is copied to. One for each name. */
window.deviceWrap = (() => {
  "use strict";
  const AES = { name: "AES-GCM", length: 256 };

  function open() {
    return new Promise((answer, refuse) => {
      const opening = indexedDB.open("device-wrap", 1);
      opening.onupgradeneeded = () => opening.result.createObjectStore("keys");
      opening.onsuccess = () => answer(opening.result);
      opening.onerror = () => refuse(opening.error);
    });
  }

  /* Done when it is on the disk. */
  async function carryOut(mode, act) {
    const base = await open();
    try {
      return await new Promise((answer, refuse) => {
        const turn = base.transaction("keys", mode, { durability: "strict" });
        const asked = act(turn.objectStore("keys"));
        turn.oncomplete = () => answer(asked.result);
        turn.onabort = () => refuse(turn.error);
      });
    } finally {
      base.close();
    }
  }

  const keyOf = (name) => carryOut("readonly", (keys) => keys.get(name));
  const drop = (name) => carryOut("readwrite", (keys) => keys.delete(name));

  /* A new key for it, in place of one that was there. */
  async function lock(name, bytes) {
    const key = await crypto.subtle.generateKey(AES, false, ["encrypt", "decrypt"]);
    const iv = crypto.getRandomValues(new Uint8Array(12));
    const locked = await crypto.subtle.encrypt({ name: AES.name, iv }, key, bytes);
    await carryOut("readwrite", (keys) => keys.put(key, name));
    return { iv, locked };
  }

  /* Null where this browser has not the key that locked it. */
  async function unlock(name, { iv, locked }) {
    const key = await keyOf(name);
    return key ? crypto.subtle.decrypt({ name: AES.name, iv }, key, locked).catch(() => null) : null;
  }

  return { lock, unlock, drop };
})();
