/* Keeps what was typed: says what is not saved yet, tries again until it is, and brings it back after a reload
   or after the form was drawn anew. The page works without this file: then its Save button does the saving. */
(() => {
  "use strict";
  const RETRY_AFTER_MS = 5000;
  const unsaved = new Map(); // field id -> { change, base revision, states of its controls }
  let changes = 0;
  let sent = new Map();
  let timer = null;

  const draftForm = () => document.querySelector("form[data-draft]");
  const shelf = () => "typed:" + draftForm().dataset.draft;
  const controlsOf = (field) =>
    [...field.querySelectorAll("input, select, textarea")].filter((c) => c.name && c.type !== "hidden");
  const isTicked = (control) => control.type === "checkbox" || control.type === "radio";
  const isOurs = (event) => draftForm() && event.detail.requestConfig?.verb === "post";

  function onShelf() {
    try {
      return JSON.parse(localStorage.getItem(shelf()) || "{}");
    } catch {
      return {};
    }
  }

  function putOnShelf() {
    try {
      if (unsaved.size) localStorage.setItem(shelf(), JSON.stringify(Object.fromEntries(unsaved)));
      else localStorage.removeItem(shelf());
    } catch {
      /* Without storage the page itself still holds what was typed. */
    }
  }

  function markUnsaved(field, base) {
    changes += 1;
    base = base ?? unsaved.get(field.id)?.base ?? document.getElementById("base-revision").value;
    const states = controlsOf(field).map((c) => (isTicked(c) ? [c.name, c.value, c.checked] : [c.name, null, c.value]));
    unsaved.set(field.id, { change: changes, base, states });
    putOnShelf();
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

  function bringBack() {
    for (const [id, { base, states }] of Object.entries({ ...onShelf(), ...Object.fromEntries(unsaved) })) {
      const field = document.getElementById(id);
      if (!field) continue;
      for (const [name, choice, state] of states) {
        const control = controlsOf(field).find((c) => c.name === name && (choice === null || c.value === choice));
        if (!control) continue;
        if (choice === null) control.value = state;
        else control.checked = state;
      }
      tellBase(field, base);
      markUnsaved(field, base);
    }
    if (unsaved.size) save();
  }

  function save() {
    clearTimeout(timer);
    timer = null;
    if (draftForm()) htmx.trigger(draftForm(), "save");
  }

  function say(words) {
    const slots = [...unsaved.keys()].map((id) => document.getElementById(id)?.querySelector(".keep"));
    for (const slot of [...slots, document.getElementById("save-state")]) {
      if (!slot) continue;
      slot.textContent = words;
      slot.dataset.state = "waiting";
    }
    clearTimeout(timer);
    timer = setTimeout(save, RETRY_AFTER_MS);
  }

  function sayKept() {
    for (const [id, { change }] of sent) {
      const field = document.getElementById(id);
      if (unsaved.get(id)?.change !== change || field?.querySelector(".conflict")) continue;
      unsaved.delete(id);
      const slot = field?.querySelector(".keep");
      if (!slot) continue;
      slot.textContent = "";
      delete slot.dataset.state;
    }
    putOnShelf();
  }

  for (const kind of ["input", "change"]) {
    document.addEventListener(kind, (event) => {
      const field = event.target.closest("form[data-draft] [data-field]");
      if (field) markUnsaved(field);
    }, true);
  }
  document.addEventListener("htmx:beforeRequest", (event) => {
    if (isOurs(event)) sent = new Map(unsaved);
  });
  document.addEventListener("htmx:afterRequest", (event) => {
    if (!isOurs(event)) return;
    const words = draftForm().dataset;
    if (!event.detail.successful) {
      say({ 401: words.signedOut, 403: words.stale, 409: words.stale }[event.detail.xhr?.status] ?? words.unsaved);
      return;
    }
    sayKept();
  });
  document.addEventListener("htmx:afterSettle", (event) => {
    if (event.target.id === "section" && unsaved.size) bringBack();
  });
  window.addEventListener("online", () => unsaved.size && save());
  document.addEventListener("visibilitychange", () => !document.hidden && unsaved.size && save());
  document.addEventListener("DOMContentLoaded", () => {
    if (draftForm() && window.htmx) bringBack();
  });
})();
