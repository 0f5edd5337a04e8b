/* A new item of a list while there is no connection: from the pattern that came with the page, under an id made
   here. Each of its fields carries where it was begun, so that the server begins it, too, whichever comes first. */
window.newItems = (() => {
  "use strict";
  const BLANK = "00000000-0000-4000-8000-000000000000";

  const patternOf = (list) => [...document.querySelectorAll("#section template[data-list]")].find((each) => each.dataset.list === list);

  /* Not crypto.randomUUID: that is missing where the site is served without TLS. */
  function newId() {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    bytes[6] = (bytes[6] & 15) | 64;
    bytes[8] = (bytes[8] & 63) | 128;
    const digits = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
    return digits.replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
  }

  function told(path) {
    const begin = document.createElement("input");
    return Object.assign(begin, { type: "hidden", name: "begin", value: path });
  }

  /* The new item, None where this page has no pattern for the list. */
  function add(list, id = newId()) {
    const pattern = patternOf(list);
    if (!pattern || pattern.dataset.kind) return null;
    const made = document.createElement("template");
    made.innerHTML = pattern.innerHTML.replaceAll(BLANK, id);
    const item = made.content.firstElementChild;
    const around = pattern.closest(".item[data-begun]");
    if (pattern.dataset.beginsNow) item.dataset.beginsNow = "yes";
    item.dataset.begun = `${around ? `${around.dataset.begun} ` : ""}${list}[${id}]`;
    for (const field of item.querySelectorAll("[data-field]")) field.append(...item.dataset.begun.split(" ").map(told));
    pattern.parentElement.querySelector(":scope > p.quiet")?.remove();
    pattern.before(item);
    htmx.process(item);
    return item;
  }

  /* The items that an entry was typed into, where they are not on this page. */
  function addFor(entry) {
    for (const [name, path] of entry.hidden) {
      const [, list, id] = (name === "begin" && path.match(/^(.+)\[([^\]]+)\]$/)) || [];
      const there = [...document.querySelectorAll(".item")].some((item) => item.id.endsWith(id));
      if (id && !there) add(list, id);
    }
  }

  /* An item that stands open is begun by each of its fields, once something is entered. */
  function adoptOpened() {
    for (const item of document.querySelectorAll("#section .item[data-opened]:not([data-begun])")) {
      item.dataset.begun = item.dataset.opened;
      for (const field of item.querySelectorAll("[data-field]")) field.append(told(item.dataset.opened));
    }
  }
  for (const drawn of ["DOMContentLoaded", "htmx:afterSettle"]) document.addEventListener(drawn, adoptOpened);

  return { add, addFor };
})();
