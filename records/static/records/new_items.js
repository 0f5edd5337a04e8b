/* A new item of a list while there is no connection: from the pattern that came with the page, under an id made
   here. Each of its fields carries where it was begun, so that the server begins it, too, whichever comes first. */
window.newItems = (() => {
  "use strict";
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

  function call(item, name) {
    const title = item.querySelector("h3");
    const remove = [...item.children].find((each) => each.name === "remove");
    if (remove) remove.textContent = remove.textContent.replace(title.textContent, () => name);
    title.textContent = name;
  }

  /* The pattern under the id, at the end of its list. Each field tells of what was begun here around it. */
  function place(pattern, id, begins = "") {
    const made = document.createElement("template");
    made.innerHTML = pattern.innerHTML.replaceAll(pattern.dataset.blank, id);
    const item = made.content.firstElementChild;
    const begun = [pattern.closest(".item[data-begun]")?.dataset.begun, begins].filter(Boolean);
    item.dataset.begun = begun.join(" ");
    const paths = item.dataset.begun.split(" ").filter(Boolean);
    for (const field of item.querySelectorAll("[data-field]")) field.append(...paths.map(told));
    const before = pattern.parentElement.querySelectorAll(":scope > .item").length;
    call(item, item.querySelector("h3").textContent.replace(/[0-9]+$/, before + 1));
    pattern.parentElement.querySelector(":scope > p.quiet")?.remove();
    pattern.before(item);
    document.dispatchEvent(new Event("item:added"));
    return item;
  }

  /* The new item, null where this page has no pattern for the list. */
  function add(list, id = newId()) {
    const pattern = patternOf(list);
    if (!pattern || pattern.dataset.kind) return null;
    const item = place(pattern, id, `${list}[${id}]`);
    if (pattern.dataset.beginsNow) item.dataset.beginsNow = "yes";
    htmx.process(item);
    return item;
  }

  function begunBy(entry) {
    const paths = entry.hidden.filter(([name]) => name === "begin").map(([, path]) => path.match(/^(.+)\[([^\]]+)\]$/));
    return paths.filter(Boolean).map(([, list, id]) => ({ list, id }));
  }

  const isHere = (id) => [...document.querySelectorAll(".item")].some((item) => item.id.endsWith(id));

  /* The items that an entry was typed into, where they are not on this page. */
  function addFor(entry) {
    for (const { list, id } of begunBy(entry)) if (!isHere(id)) add(list, id);
  }

  /* The items that were begun on another screen of the treatment, of lists that this one shows, too. */
  function addFromElsewhere(entry) {
    for (const { list, id } of begunBy(entry)) {
      if (patternOf(list)?.dataset.begunElsewhere && !isHere(id)) add(list, id);
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

  return { add, addFor, addFromElsewhere, call, newId, patternOf, place };
})();
