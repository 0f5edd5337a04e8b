/* Keeps what was typed: says what is not saved yet, tries again until it is, and brings it back after a reload
   or after the form was drawn anew. The page works without this file: then its Save button does the saving. */
(() => {
  "use strict";
  const RETRY_AFTER_MS = 5000;
  const unsaved = new Map(); // field id -> its entry on the shelf
  let backlog = []; // entries of the shelf whose field still shows another one
  let sent = new Map();
  let timer = null;
  let goingOn = false;
  let isKept = true; // what was typed last, on this device
  let ready = false; // before that a button is the browser's own business

  const draftForm = () => document.querySelector("form[data-draft]");
  const treatmentHere = () => draftForm().dataset.draft.split("/")[0];
  const controlsOf = (field) =>
    [...field.querySelectorAll("input, select, textarea")].filter((c) => c.name && c.type !== "hidden");
  const isTicked = (control) => control.type === "checkbox" || control.type === "radio";
  const isOurs = (event) => draftForm() && event.detail.requestConfig?.verb === "post";

  const titleOf = (element) => element?.firstChild?.textContent.trim() ?? "";

  /* The question as a person reads it, with what it is a part of. */
  function nameOf(field) {
    const items = [];
    for (let item = field.closest(".item"); item; item = item.parentElement.closest(".item")) {
      items.unshift(titleOf(item.querySelector("h3, summary")));
    }
    const title = titleOf(field.querySelector("legend, label")) || titleOf(field.closest("section")?.querySelector("h2"));
    return [...items, title].join(": ");
  }

  /* A number with its unit, a day with its time; nothing where only the unit stands. */
  function saidIn(controls) {
    const number = controls.find((c) => c.name.startsWith("v:") && !isTicked(c) && !c.options);
    if (number && !number.value.trim()) return "";
    const said = controls
      .filter((c) => !isTicked(c) || c.checked)
      .map((c) => (isTicked(c) ? c.closest("label").textContent.trim() : c.selectedOptions?.[0]?.text ?? c.value));
    return said.filter(Boolean).join(" ");
  }

  /* Several answers stand beside each other with commas. */
  function textOf(field) {
    const answers = new Map();
    for (const control of controlsOf(field)) {
      const answer = control.type === "checkbox" ? control : control.closest(".row") ?? field;
      answers.set(answer, [...(answers.get(answer) ?? []), control]);
    }
    return [...answers.values()].map(saidIn).filter(Boolean).join(", ");
  }

  function markUnsaved(field, kept) {
    const form = draftForm();
    const last = kept ?? unsaved.get(field.id);
    const entry = {
      key: last?.key ?? shelf.keyOf(form.dataset.draft),
      base: last?.base ?? document.getElementById("base-revision").value,
      form: last?.form ?? form.elements.form.value,
      at: last?.at ?? clockHere.now(),
      change: shelf.unique(),
      field: field.id,
      action: last?.action ?? form.getAttribute("action"),
      control: JSON.parse(field.dataset.control),
      treatment: titleOf(document.querySelector("a.back")),
      section: last?.section ?? titleOf(document.querySelector("h1")),
      asks: nameOf(field),
      text: field.dataset.text ?? textOf(field),
      draws: [...field.querySelectorAll("[data-placed]")].map((c) => JSON.parse(c.dataset.placed)),
      rows: [...field.querySelectorAll("[data-row]")].map((c) => JSON.parse(c.dataset.row)),
      hidden: [...field.querySelectorAll("input[type=hidden]")].map((c) => [c.name, c.value]),
      states: controlsOf(field).map((c) => (isTicked(c) ? [c.name, c.value, c.checked] : [c.name, null, c.value])),
    };
    unsaved.set(field.id, entry);
    isKept = shelf.put(entry);
  }

  /* The server merges by the revision that a value was typed on, which the page may have left behind. */
  function tellBase(field, base) {
    const was = field.querySelector('input[name^="was:"]');
    if (!was) return;
    const told = document.createElement("input");
    told.type = "hidden";
    told.name = was.name.replace("was:", "base:");
    told.value = base;
    was.after(told);
  }

  /* A thing that is ticked off was done when it was ticked, also if that is sent later. */
  function stampTick(tick, at = new Date(clockHere.now()).toISOString()) {
    const name = `${tick.name.replace("tick:", "tick-at:")}:${tick.value}`;
    const stamp = [...tick.form.elements].find((c) => c.name === name) ?? document.createElement("input");
    Object.assign(stamp, { type: "hidden", name, value: at });
    tick.closest("[data-field]").append(stamp);
  }

  function show(entry, field) {
    for (const [name, at] of entry.hidden.filter(([name]) => name.startsWith("tick-at:"))) {
      const tick = controlsOf(field).find((c) => name === `${c.name.replace("tick:", "tick-at:")}:${c.value}`);
      if (tick) stampTick(tick, at);
    }
    sentHere.fill(field, entry);
    tellBase(field, entry.base);
  }

  /* Into a field that was drawn anew: what the entry is held against is told anew, too. */
  function putBack(entry, field) {
    show(entry, field);
    markUnsaved(field, entry);
  }

  /* From the shelf: nothing was typed, so it stays the entry that it is, and no later one. */
  function takeUp(entry, field) {
    show(entry, field);
    unsaved.set(field.id, entry);
  }

  /* Whether it shows something else than the page came with. The browser empties a day or time that it can't read. */
  function isChanged(control) {
    if (isTicked(control)) return control.checked !== control.defaultChecked;
    if (!control.options) return control.value !== control.defaultValue && (control.value !== "" || control.type === "text");
    return control.selectedIndex !== Math.max(0, [...control.options].findIndex((option) => option.defaultSelected));
  }

  /* On a slow phone a quick thumb may tick and type before the scripts are there. */
  function takeUpEarly() {
    const fields = [...draftForm().querySelectorAll("[data-field]")];
    for (const field of fields) {
      const changed = controlsOf(field).filter(isChanged);
      for (const tick of changed.filter(({ name, checked }) => name.startsWith("tick:") && checked)) stampTick(tick);
      if (changed.length) markUnsaved(field);
    }
  }

  /* One entry for each field; the next one for the same field once the first is settled. */
  function bringBack() {
    const typed = new Set(unsaved.values());
    const waiting = [...typed, ...backlog];
    const shown = new Set();
    backlog = [];
    for (const items of [newItems, choosing]) shelf.entries(treatmentHere()).forEach(items.addFromElsewhere);
    waiting.forEach(newItems.addFor);
    waiting.forEach(choosing.addFor);
    waiting.forEach(drawing.addFor);
    for (const entry of waiting) {
      const field = document.getElementById(entry.field);
      if (field && !shown.has(entry.field)) (typed.has(entry) ? putBack : takeUp)(entry, field);
      else if (field) backlog.push(entry);
      shown.add(entry.field);
    }
    if (unsaved.size) save();
  }

  /* Of this screen, or of another one that asks the same; an item that is not here yet comes first. */
  function isOfHere(entry) {
    newItems.addFor(entry);
    choosing.addFor(entry);
    const field = document.getElementById(entry.field);
    return entry.action === draftForm().getAttribute("action") || (field !== null && sentHere.fits(field, entry));
  }

  function save() {
    clearTimeout(timer);
    timer = null;
    if (draftForm()) htmx.trigger(draftForm(), "save");
  }

  /* In full at the top and beside the button; beside a field only that it is one of those. */
  function say(words) {
    const { unsaved: waits, waits: mark, notSaved } = draftForm().dataset;
    const slots = [...unsaved.keys()].map((id) => document.getElementById(id)?.querySelector(".keep")).filter(Boolean);
    const said = [...slots.map((slot) => [slot, words === waits ? mark : notSaved]), [document.getElementById("save-state"), words]];
    for (const [slot, text] of said) {
      slot.textContent = text;
      slot.dataset.state = "waiting";
    }
    sayAtTop(words === waits && document.documentElement.dataset.keptAt ? "" : words); // a kept page says so already
    clearTimeout(timer);
    timer = setTimeout(save, RETRY_AFTER_MS);
  }

  function sayAtTop(words) {
    const place = document.getElementById("not-saved");
    place.textContent = words;
    place.hidden = !words;
  }

  /* Within a row that was chosen here, or a draw, that the service could not write. */
  const isNotTaken = (field) => field?.closest(".item[data-chosen], [data-drawn]")?.querySelector("[data-taken]") === null;

  /* By which form and on which revision the page posts. */
  const posted = () => ({ form: draftForm().elements.form.value, base: document.getElementById("base-revision").value });

  function sayKept() {
    const revision = Number(document.getElementById("base-revision").value);
    for (const [id, entry] of sent) {
      const field = document.getElementById(id);
      if (unsaved.get(id)?.change !== entry.change || field?.querySelector(".conflict, [data-refused]") || isNotTaken(field)) continue;
      unsaved.delete(id);
      shelf.settle(entry, revision);
      for (const told of field?.querySelectorAll('[name^="tick-at:"], [name^="follows:"]') ?? []) told.remove();
      const slot = field?.querySelector(".keep");
      if (!slot) continue;
      slot.textContent = "";
      delete slot.dataset.state;
    }
    if (!unsaved.size) sayAtTop("");
    if (backlog.some((entry) => !unsaved.has(entry.field))) bringBack();
  }

  function wordsFor(status) {
    const words = draftForm().dataset;
    const said = { 400: words.refused, 401: words.signedOut, 403: words.stale, 404: words.refused, 409: words.stale, 413: words.refused };
    return said[status] ?? (isKept ? words.unsaved : words.noRoom);
  }

  /* Without a signal only to a page that is on this device. */
  async function goOnIfKept(address) {
    if (await window.caches?.match(address)) location.assign(address);
  }

  for (const kind of ["input", "change"]) {
    document.addEventListener(kind, (event) => {
      const field = event.target.closest("form[data-draft] [data-field]");
      if (kind === "change" && field && event.target.name.startsWith("tick:")) stampTick(event.target);
      if (field) markUnsaved(field);
    }, true);
  }
  /* The button saves in place first: without a connection the page stays, with what was typed and a word. */
  document.addEventListener("submit", (event) => {
    if (event.target !== draftForm() || !ready || event.submitter?.name) return;
    event.preventDefault();
    goingOn = true;
    document.getElementById("rows-told").replaceChildren(); // was read: what this save says keeps the page here
    save();
  });
  document.addEventListener("htmx:beforeRequest", (event) => {
    if (isOurs(event)) sent = new Map([...unsaved].map(([id, entry]) => [id, { ...entry, ...posted() }]));
  });
  document.addEventListener("htmx:afterRequest", (event) => {
    if (!isOurs(event)) return;
    const leaving = goingOn;
    goingOn = false;
    if (!event.detail.successful) {
      say(wordsFor(event.detail.xhr?.status));
      if (leaving && !event.detail.xhr?.status) goOnIfKept(draftForm().dataset.following);
      return;
    }
    sayKept();
    if (leaving && !document.querySelector("#rows-told p")) draftForm().submit();
  });
  document.addEventListener("htmx:afterSettle", (event) => {
    if (event.target.id === "section" && unsaved.size) bringBack();
  });
  /* A field that is drawn anew keeps what was typed into it since its form was sent. */
  document.addEventListener("htmx:oobAfterSwap", (event) => {
    const entry = unsaved.get(event.detail.target?.id);
    if (entry && sent.get(entry.field)?.change !== entry.change) putBack(entry, document.getElementById(entry.field));
  });
  /* A box that was touched since its form was sent stays as it is: its next save tells of it. */
  document.addEventListener("htmx:oobBeforeSwap", ({ detail }) => {
    const field = detail.target.closest?.("[data-field]");
    const isBox = detail.target.matches?.(".tick, [id^='ticked-']");
    if (isBox && unsaved.get(field?.id)?.change !== sent.get(field?.id)?.change) detail.shouldSwap = false;
  });
  document.addEventListener("draft:typed", (event) => {
    markUnsaved(event.target);
    save();
  });
  document.addEventListener("draft:gone", ({ target }) => {
    if (unsaved.has(target.id)) shelf.drop(unsaved.get(target.id));
    unsaved.delete(target.id);
  });
  window.addEventListener("online", () => unsaved.size && save());
  document.addEventListener("visibilitychange", () => !document.hidden && unsaved.size && save());
  document.addEventListener("DOMContentLoaded", async () => {
    ready = Boolean(window.htmx);
    if (!draftForm() || !ready || sealedHere.of(treatmentHere())) return;
    if (document.documentElement.dataset.keptAt) draftForm().elements.form.value = shelf.unique();
    takeUpEarly();
    await onDisk.inLine;
    const typedHere = new Set([...unsaved.values()].map(({ key }) => key));
    backlog = shelf.entries(treatmentHere()).filter(({ key }) => !typedHere.has(key)).filter(isOfHere);
    sentHere.show(treatmentHere(), Number(posted().base));
    bringBack();
    document.dispatchEvent(new Event("draft:back"));
  });
})();
