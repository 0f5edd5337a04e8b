/* A person's key on this device: made here, kept here, opened by a PIN. Only its public half leaves the device.
   What is kept is locked by the PIN, and around that by this browser: a copy of it elsewhere takes no PIN. */
window.deviceKey = (() => {
  "use strict";
  const TRIES = 5;
  const ROUNDS = 600000; // PBKDF2 with SHA-256
  const SHORTEST_PIN = 6;
  const CURVE = { name: "ECDSA", namedCurve: "P-256" };
  const SIGNING = { name: "ECDSA", hash: "SHA-256" };

  /* The same sign again and again, or digits in a row. */
  const isGuessed = (pin) => new Set(pin).size < 3 || "01234567890 09876543210".includes(pin);

  class WrongPin extends Error {}
  class NotOfThisBrowser extends Error {}

  const text = (bytes) =>
    btoa(String.fromCharCode(...new Uint8Array(bytes))).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
  const bytesOf = (written) => Uint8Array.from(atob(written.replaceAll("-", "+").replaceAll("_", "/")), (c) => c.charCodeAt(0));
  const place = (firm) => `device-key:${document.body.dataset.person}/${firm}`;

  function kept(firm) {
    try {
      return JSON.parse(localStorage.getItem(place(firm)));
    } catch {
      return null;
    }
  }

  const keep = (firm, key) => onDisk.put(place(firm), key);

  /* What is kept of a key, locked by this browser, too. */
  async function wrapped(firm, key) {
    const { iv, locked } = await deviceWrap.lock(place(firm), bytesOf(key.locked));
    return { ...key, locked: text(locked), wrap: text(iv) };
  }

  function forget(firm) {
    onDisk.drop(place(firm));
    return deviceWrap.drop(place(firm)).catch(() => {});
  }

  /* What the PIN opens. Rows of earlier days are not wrapped. */
  async function lockedIn(firm, { locked, wrap }) {
    if (!wrap) return bytesOf(locked);
    const inner = await deviceWrap.unlock(place(firm), { iv: bytesOf(wrap), locked: bytesOf(locked) });
    if (inner) return inner;
    await forget(firm);
    throw new NotOfThisBrowser();
  }

  async function lockOf(pin, salt) {
    const known = await crypto.subtle.importKey("raw", new TextEncoder().encode(pin), "PBKDF2", false, ["deriveKey"]);
    const how = { name: "PBKDF2", hash: "SHA-256", salt, iterations: ROUNDS };
    return crypto.subtle.deriveKey(how, known, { name: "AES-GCM", length: 256 }, false, ["encrypt", "decrypt"]);
  }

  const signedBy = async (key, bytes) => text(await crypto.subtle.sign(SIGNING, key, bytes));

  /* A new key: what is told to the service (`public`, and `proof` that it is held), and what is kept here. */
  async function make(pin, challenge) {
    const pair = await crypto.subtle.generateKey(CURVE, true, ["sign", "verify"]);
    const salt = crypto.getRandomValues(new Uint8Array(16));
    const iv = crypto.getRandomValues(new Uint8Array(12));
    const half = await crypto.subtle.exportKey("pkcs8", pair.privateKey);
    const locked = await crypto.subtle.encrypt({ name: "AES-GCM", iv }, await lockOf(pin, salt), half);
    return {
      public: text(await crypto.subtle.exportKey("spki", pair.publicKey)),
      proof: await signedBy(pair.privateKey, new TextEncoder().encode(challenge)),
      toKeep: { salt: text(salt), iv: text(iv), locked: text(locked), tries: TRIES },
    };
  }

  /* Opens the key with the PIN and signs. After some wrong PINs the key is gone from this device.
     Throws WrongPin, whose message is how many tries are left. */
  async function sign(firm, pin, bytes) {
    const key = kept(firm);
    const locked = await lockedIn(firm, key);
    keep(firm, { ...key, tries: key.tries - 1 });
    await onDisk.written(); // who switches the phone off gets no try back
    let half;
    try {
      const lock = await lockOf(pin, bytesOf(key.salt));
      half = await crypto.subtle.decrypt({ name: "AES-GCM", iv: bytesOf(key.iv) }, lock, locked);
    } catch {
      if (key.tries <= 1) await forget(firm);
      throw new WrongPin(String(key.tries - 1));
    }
    const whole = { ...key, tries: TRIES };
    keep(firm, key.wrap ? whole : await wrapped(firm, whole).catch(() => whole));
    return signedBy(await crypto.subtle.importKey("pkcs8", half, CURVE, false, ["sign"]), bytes);
  }

  return { kept, keep, wrapped, forget, make, sign, WrongPin, SHORTEST_PIN, isGuessed };
})();
