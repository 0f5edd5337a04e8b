/* The treatment document as this device knows it: the one that it keeps of the treatment, with what was typed here
   and is not sent yet. */
window.phoneDocument = (() => {
  "use strict";
  const EDITS = "6f1d7a0e-8d0a-4e6f-9b0a-2f5f6a1d9c11";
  const RENAMED = /^(surfaces|people|site\.features|equipment)\[[^\]]+\]\.name$/;

  /* A name-based id (RFC 9562, version 5). */
  async function idFor(name) {
    const space = EDITS.replaceAll("-", "").match(/../g).map((pair) => parseInt(pair, 16));
    const hash = await crypto.subtle.digest("SHA-1", new Uint8Array([...space, ...new TextEncoder().encode(name)]));
    const bytes = new Uint8Array(hash).slice(0, 16);
    bytes[6] = (bytes[6] & 15) | 80;
    bytes[8] = (bytes[8] & 63) | 128;
    const digits = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
    return digits.replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
  }

  const personHere = () => window.document.body.dataset.person;

  const texts = (entry, letter, path) =>
    entry.states
      .filter(([name, choice, state]) => name === `${letter}:${path}` && (choice === null || state))
      .map(([, choice, state]) => (choice === null ? state : choice));

  /* Of a time that the clocks show twice: the offset of the one that is meant. */
  function whichOf(entry, path) {
    const [chosen] = texts(entry, "o", path);
    return chosen ?? entry.hidden.find(([name]) => name === `o:${path}`)?.[1] ?? "";
  }

  /* What stands in the inputs of a control, one after the other, as the service gets it. */
  function typedIn(entry) {
    const { path, reads } = entry.control;
    const columns = { moment: ["d", "t"], quantity: ["v", "u"], amounts: ["v", "u"] }[reads] ?? ["v"];
    if (columns.length === 1) return reads === "words" ? texts(entry, "v", path) : [texts(entry, "v", path)[0] ?? ""];
    const [first, second] = columns.map((letter) => texts(entry, letter, path));
    const typed = first.flatMap((text, at) => [text, second[at] ?? ""]);
    return reads === "moment" ? [...typed, whichOf(entry, path)] : typed;
  }

  /* Also by what was chosen or drawn into it. */
  function isTypedInto(item, entry) {
    const putInto = [...(entry.rows ?? []).map(({ path }) => path), ...(entry.draws ?? []).map(({ told }) => JSON.parse(told).path)];
    if (putInto.some((path) => path.startsWith(item))) return true;
    const begins = (name) => name.startsWith(`v:${item}.`) || name.startsWith(`t:${item}.`);
    return entry.states.some(([name, choice, state]) => begins(name) && (choice === null ? state : state && choice));
  }

  function begin(document, entry) {
    for (const [name, path] of entry.hidden) {
      if (name !== "begin" || placing.at(document, path) || !isTypedInto(path, entry)) continue;
      placing.put(document, path, { id: path.match(/\[([^[\]]+)\]$/)[1] });
    }
  }

  function choose(document, entry) {
    for (const { path, part } of entry.rows ?? []) {
      if (placing.at(document, path)) continue;
      if (!placing.put(document, path, structuredClone(part))) throw new reading.Unreadable(path);
    }
  }

  /* A draw puts a mix together anew, once, whichever of the mix's fields tell of it. */
  function draw(document, entry, done) {
    for (const { told, placed } of entry.draws ?? []) {
      if (done.has(told)) continue;
      done.add(told);
      if (!placed.every(([path, value]) => placing.put(document, path, structuredClone(value)))) throw new reading.Unreadable(told);
    }
  }

  /* A tick is what one person says of one moment: it is no other entry's rival, and unticking takes out one's own. */
  async function tick(document, entry, zone) {
    const { path, key, begun } = entry.control;
    const named = (name) => entry.hidden.filter(([each]) => each === name).map(([, value]) => value);
    const before = named(`ticked:${path}`);
    const now = texts(entry, "tick", path);
    const items = () => placing.at(document, path) ?? [];
    for (const word of [...now].sort()) {
      const [stamp] = named(`tick-at:${path}:${word}`);
      if (before.includes(word) && !stamp) continue;
      const id = await idFor(stamp ? `${personHere()}:${path}:${word}:${stamp}` : `${entry.form}:${path}:${word}:${entry.base}`);
      if (items().some((each) => each.id === id)) continue;
      const at = reading.momentIn(zone, Date.parse(stamp ?? entry.at));
      placing.put(document, `${path}[${id}]`, { id, [key]: word, ...begun, at });
    }
    const isOwn = ({ by }) => by === undefined || by === begun.by;
    for (const item of items().filter((each) => before.includes(each[key]) && !now.includes(each[key]) && isOwn(each))) {
      placing.put(document, `${path}[${item.id}]`, null);
    }
  }

  function fill(document, entry) {
    const { path } = entry.control;
    const there = placing.at(document, path);
    const value = reading.read(entry.control, typedIn(entry), there);
    if (RENAMED.test(path) && there !== null && value !== there) throw new reading.Unreadable(path);
    if (!placing.put(document, path, value)) throw new reading.Unreadable(path);
    const follows = entry.hidden.find(([name]) => name === `follows:${path}`);
    if (follows) follow(document, JSON.parse(follows[1]));
  }

  /* What is so besides when an offer is taken, where nothing is said of it yet. */
  function follow(document, values) {
    for (const [path, value] of Object.entries(values)) {
      if (placing.at(document, path.replace(/\.[^.]+$/, "")) === null) placing.put(document, path, value);
    }
  }

  /* The document with the entries, the oldest first, and those of them that can't be read here; of several for one
     field the newest counts. */
  async function withEntries(base, entries) {
    const document = structuredClone(base);
    const zone = document.site?.time_zone ?? "UTC";
    const unreadable = [];
    const drawn = new Set();
    for (const entry of entries) {
      try {
        begin(document, entry);
        choose(document, entry);
        draw(document, entry, drawn);
        if (entry.control.reads === "ticks") await tick(document, entry, zone);
        else if (!["chosen", "drawn"].includes(entry.control.reads)) fill(document, entry);
      } catch (error) {
        if (!(error instanceof reading.Unreadable)) throw error;
        unreadable.push(entry);
      }
    }
    const newest = (entry) => entries.findLast(({ control }) => control.path === entry.control.path) === entry;
    return { document, entries, unreadable: unreadable.filter(newest) };
  }

  /* `{document, sheet, entries, unreadable}` of a treatment; null where this device keeps none of it. */
  async function of(treatment) {
    const kept = await window.caches?.match(`/treatments/${treatment}/sheet/`);
    if (!kept) return null;
    const sheet = await kept.json();
    const known = await withEntries(sheet.document, shelf.since(treatment, sheet.revision));
    await window.photoShelf?.nameIn(treatment, known.document);
    return { sheet, ...known };
  }

  return { of, withEntries };
})();
