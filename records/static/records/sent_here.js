/* What was sent from this device since a page was kept: the service has it, and the kept page shows it, too. */
window.sentHere = (() => {
  "use strict";

  const controlsOf = (field) => [...field.querySelectorAll("input, select, textarea")].filter(({ type }) => type !== "hidden");

  function told(field, name, value) {
    field.append(Object.assign(document.createElement("input"), { type: "hidden", name, value }));
  }

  const controlOf = (field, [name, choice]) => controlsOf(field).find((c) => c.name === name && (choice === null || c.value === choice));

  /* Whether the field asks for all that the entry holds: two screens may offer other ticks of one list. */
  const fits = (field, entry) => entry.states.every((state) => controlOf(field, state));

  /* Which of two times is meant, where the clocks show a time twice: as it was chosen, or as Now knew it. */
  function tellWhich(field, name, value) {
    forgetWhich(field);
    const choices = [...field.querySelectorAll(`[name="${CSS.escape(name)}"]`)];
    for (const choice of choices) choice.checked = choice.value === value;
    if (!choices.length) told(field, name, value);
  }

  function forgetWhich(field) {
    for (const input of field.querySelectorAll("input[type=hidden][name^='o:']")) input.remove();
  }

  /* What was entered stands in the field's controls. */
  function fill(field, entry) {
    for (const [name, choice, state] of entry.states) {
      const control = controlOf(field, [name, choice]);
      if (!control) continue;
      if (choice === null) control.value = state;
      else control.checked = state;
    }
    for (const [name, value] of entry.hidden.filter(([each]) => each.startsWith("o:"))) tellWhich(field, name, value);
    for (const [name, value] of entry.hidden.filter(([each]) => each.startsWith("follows:"))) told(field, name, value);
    field.closest("details")?.setAttribute("open", "");
  }

  /* What is ticked there is ticked in the record, and taken out when it is unticked here. */
  function tellTicks(field, { control, states }) {
    if (control.reads !== "ticks") return;
    const name = `ticked:${control.path}`;
    for (const input of field.querySelectorAll(`[name="${CSS.escape(name)}"]`)) input.remove();
    for (const [, word, state] of states) if (state) told(field, name, word);
  }

  const itemsAround = ({ control }) => [...control.path.matchAll(/\[[^\]]+\]/g)].map(({ 0: id, index }) => control.path.slice(0, index + id.length));
  const itemsHere = () => [...document.querySelectorAll("#section .item")];

  /* The items that the entry stands in, where the page does not have them. */
  function addItems(entry) {
    const before = new Set(itemsHere());
    newItems.addFor({ hidden: itemsAround(entry).map((path) => ["begin", path]) });
    choosing.addFor(entry);
    const added = itemsHere().filter((item) => !before.has(item));
    for (const field of added.flatMap((item) => [...item.querySelectorAll("[data-field]")])) tellBase(field, entry.revision);
    drawing.addFor(entry);
  }

  /* What is typed into it from now on was typed on this revision. */
  function tellBase(field, revision) {
    const name = `base:${JSON.parse(field.dataset.control).path}`;
    field.querySelector(`[name="${CSS.escape(name)}"]`)?.remove();
    told(field, name, revision);
  }

  function show(treatment, revision) {
    for (const entry of shelf.sent(treatment, revision)) {
      addItems(entry);
      const field = document.getElementById(entry.field);
      if (!field || !fits(field, entry)) continue;
      fill(field, entry);
      tellTicks(field, entry);
      tellBase(field, entry.revision);
    }
  }

  return { fill, fits, forgetWhich, show, tellWhich };
})();
