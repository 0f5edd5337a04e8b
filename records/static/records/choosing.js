/* A row of the firm's that is chosen while there is no connection: this device writes it into the form as it keeps it,
   and the service into the record, once it is told. */
window.choosing = (() => {
  "use strict";
  const patternOf = (list) => [...document.querySelectorAll("#section template[data-kind]")].find((each) => each.dataset.list === list);
  const slugOf = (path) => path.replace(/[^a-z0-9]+/g, "-").replace(/^-+|-+$/g, "");
  const itemAt = (path) => document.getElementById(`item-${slugOf(path)}`);

  async function keptRow({ rows, kind }, id) {
    const kept = await window.caches?.match(rows);
    return kept && (await kept.json())[kind].find((row) => row.id === id);
  }

  /* As the row is written on that day. */
  const asOn = ({ spans }, day) => spans.filter(({ from }) => from <= day).at(-1) ?? spans[0];

  function textsOf(value) {
    if (Array.isArray(value)) return value;
    return value.unit === undefined ? [String(value)] : [value.value, value.unit];
  }

  /* Shows what the row says in the control of one of its fields. It is nothing that was typed. */
  function fill(field, path, part) {
    const control = JSON.parse(field.dataset.control);
    if (control.reads === "amounts") return; // what is in them is typed, and nothing that a row says
    const value = control.path.slice(path.length + 1).split(".").reduce((owner, name) => owner?.[name], part);
    const was = field.querySelector('[name^="was:"]');
    if (value === undefined || !was) return;
    const texts = textsOf(value);
    was.value = JSON.stringify(texts);
    for (const input of field.querySelectorAll("[name^='v:'], [name^='u:']")) {
      const text = texts[input.name.startsWith("u:") ? 1 : 0];
      if (input.type === "checkbox") input.checked = texts.includes(input.value);
      else if (input.type === "radio") input.checked = input.value === text;
      else input.value = text;
    }
  }

  function showFacts(list, facts) {
    for (const [words, text] of facts) {
      const row = document.createElement("div");
      row.append(document.createElement("dt"), document.createElement("dd"));
      row.firstChild.textContent = words;
      row.lastChild.textContent = text;
      list.append(row);
    }
  }

  /* The lots on hand when the row was kept. */
  function offerLots(item, lots) {
    const place = item.querySelector(".lots");
    const field = place?.closest("[data-field]");
    for (const [number, left] of lots ?? []) {
      const { path } = JSON.parse(field.dataset.control);
      const button = Object.assign(document.createElement("button"), { className: "button second", name: "pick", value: `${path}|${number}` });
      button.dataset.fills = JSON.stringify([[`v:${path}`, number]]);
      button.textContent = [number, left].filter(Boolean).join(", ");
      for (const [name, value] of [["post", ""], ["target", "#section"], ["select", "#section"], ["swap", "outerHTML"]]) {
        button.setAttribute(`hx-${name}`, value);
      }
      place.prepend(button);
    }
  }

  /* Each field of the item tells of the choice, so that the service makes it, whichever comes first. */
  function told(row) {
    const input = Object.assign(document.createElement("input"), { type: "hidden", name: "choose", value: row.choose });
    input.dataset.row = JSON.stringify(row);
    return input;
  }

  /* Where the service says that it was taken; on other screens than that of the choice it has no place of its own. */
  function placeForTaken(item, path) {
    const id = `r-chosen-${slugOf(path)}`;
    if (!item.querySelector(`#${id}`)) item.append(Object.assign(document.createElement("span"), { id }));
  }

  /* The item as it was chosen, null where this page has no pattern for the list. */
  function draw(row, pattern = patternOf(row.list)) {
    if (!pattern) return null;
    const item = newItems.place(pattern, row.part.id);
    item.dataset.chosen = row.path;
    if (row.part.name) newItems.call(item, row.part.name);
    const facts = item.querySelector("[data-chosen] dl");
    if (facts) showFacts(facts, row.facts);
    placeForTaken(item, row.path);
    offerLots(item, row.lots);
    for (const field of item.querySelectorAll("[data-field]")) {
      fill(field, row.path, row.part);
      field.append(told(row));
    }
    htmx.process(item);
    return item;
  }

  /* What is chosen beside the button; null where this device does not keep it. */
  async function add(button) {
    const list = button.value;
    const pattern = patternOf(list);
    const id = button.parentElement.querySelector("select")?.value;
    if (!pattern || !id) return null;
    const path = `${list}[${id}]`;
    const row = itemAt(path) ? null : await keptRow(pattern.dataset, id);
    if (!row) return itemAt(path);
    const on = new Date(clockHere.now()).toLocaleDateString("sv-SE", { timeZone: pattern.dataset.zone });
    const { part, facts, as } = asOn(row, on);
    const choose = JSON.stringify({ path, id: shelf.unique(), on, as });
    return put({ path, list, part, facts, choose, lots: row.lots }, part.name);
  }

  function put(row, text) {
    const item = draw(row);
    const chosen = item.querySelector("[data-chosen]");
    chosen.dataset.text = text;
    chosen.dispatchEvent(new Event("draft:typed", { bubbles: true }));
    return item;
  }

  /* A left-over as a mix of its own, as the service makes it of what is left in the tank. */
  function useLeftOver(button) {
    const { part, facts, as, key } = JSON.parse(button.dataset.leftOver);
    const path = `mixes[${part.id}]`;
    const choose = JSON.stringify({ path, id: shelf.unique(), on: "", as, key });
    return itemAt(path) ?? put({ path, list: "mixes", part, facts, choose }, facts.map((each) => each.join(" ")).join(", "));
  }

  /* The items that an entry was typed into, where they are not on this page. */
  function addFor(entry) {
    for (const row of entry.rows ?? []) if (!itemAt(row.path)) draw(row);
  }

  /* Those that were chosen on another screen of the treatment, for lists that this one shows, too. */
  function addFromElsewhere(entry) {
    for (const row of entry.rows ?? []) {
      const pattern = newItems.patternOf(row.list);
      if (pattern?.dataset.begunElsewhere && !itemAt(row.path)) draw(row, pattern);
    }
  }

  return { add, addFor, addFromElsewhere, useLeftOver };
})();
