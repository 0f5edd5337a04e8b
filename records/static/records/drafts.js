/* Keeps what was typed: says what is not saved yet, tries again until it is, and brings it back after a reload.
   The page works without this file: then its Save button does the saving. */
(() => {
  "use strict";
  const RETRY_AFTER_MS = 5000;
  const unsaved = new Map();
  let changes = 0;
  let sent = new Map();
  let timer = null;

  const draftForm = () => document.querySelector("form[data-draft]");
  const shelf = () => "typed:" + draftForm().dataset.draft;
  const controlsOf = (field) =>
    [...field.querySelectorAll("input, select, textarea")].filter((c) => c.name && c.type !== "hidden");
  const isTicked = (control) => control.type === "checkbox" || control.type === "radio";

  function onShelf() {
    try {
      return JSON.parse(localStorage.getItem(shelf()) || "{}");
    } catch {
      return {};
    }
  }

  function putOnShelf() {
    const kept = {};
    for (const id of unsaved.keys()) {
      const field = document.getElementById(id);
      if (!field) continue;
      kept[id] = controlsOf(field).map((c) => (isTicked(c) ? [c.name, c.value, c.checked] : [c.name, null, c.value]));
    }
    try {
      if (unsaved.size) localStorage.setItem(shelf(), JSON.stringify(kept));
      else localStorage.removeItem(shelf());
    } catch {
      /* Without storage the page itself still holds what was typed. */
    }
  }

  function markUnsaved(field) {
    changes += 1;
    unsaved.set(field.id, changes);
    putOnShelf();
  }

  function bringBack() {
    const kept = onShelf();
    for (const [id, controls] of Object.entries(kept)) {
      const field = document.getElementById(id);
      if (!field) continue;
      for (const [name, choice, state] of controls) {
        const control = controlsOf(field).find((c) => c.name === name && (choice === null || c.value === choice));
        if (!control) continue;
        if (choice === null) control.value = state;
        else control.checked = state;
      }
      markUnsaved(field);
    }
    if (unsaved.size) save();
  }

  function save() {
    clearTimeout(timer);
    timer = null;
    if (draftForm()) htmx.trigger(draftForm(), "save");
  }

  function sayUnsaved(words) {
    for (const id of unsaved.keys()) {
      const slot = document.getElementById(id)?.querySelector(".keep");
      if (!slot) continue;
      slot.textContent = words;
      slot.dataset.state = "waiting";
    }
    const state = document.getElementById("save-state");
    if (state) {
      state.textContent = words;
      state.dataset.state = "waiting";
    }
    clearTimeout(timer);
    timer = setTimeout(save, RETRY_AFTER_MS);
  }

  function sayBusy(event) {
    const words = draftForm().dataset;
    sayUnsaved(event.detail.xhr?.status === 401 ? words.signedOut : words.unsaved);
  }

  function sayKept() {
    for (const [id, change] of sent) {
      if (unsaved.get(id) !== change) continue;
      unsaved.delete(id);
      const slot = document.getElementById(id)?.querySelector(".keep");
      if (slot) {
        slot.textContent = "";
        delete slot.dataset.state;
      }
    }
    putOnShelf();
  }

  const ours = (event) => draftForm()?.contains(event.detail.elt) && event.detail.requestConfig?.verb === "post";

  document.addEventListener("change", (event) => {
    const field = event.target.closest("form[data-draft] [data-field]");
    if (field) markUnsaved(field);
  }, true);
  document.addEventListener("htmx:beforeRequest", (event) => {
    if (ours(event)) sent = new Map(unsaved);
  });
  document.addEventListener("htmx:afterRequest", (event) => {
    if (!ours(event)) return;
    if (event.detail.successful) sayKept();
    else sayBusy(event);
  });
  window.addEventListener("online", () => unsaved.size && save());
  document.addEventListener("visibilitychange", () => !document.hidden && unsaved.size && save());
  document.addEventListener("DOMContentLoaded", () => {
    if (draftForm() && window.htmx) bringBack();
  });
})();
