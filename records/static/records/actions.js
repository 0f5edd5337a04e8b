/* The form's buttons: where the eye and the keyboard stand after one, and what becomes of it without a connection. */
(() => {
  "use strict";
  let pressed = null; // { name, value, items: ids of the items that were there }

  const buttonOf = (event) => event.detail.elt.closest?.("form[data-draft] button[name]");
  const itemIds = () => [...document.querySelectorAll("#section .item")].map((item) => item.id);
  const named = (name, value) => document.querySelector(`#section [name="${name}"][value="${CSS.escape(value)}"]`);

  /* The item that was added, else the same button, else the question that it was about, else the list's own button. */
  function placeAfter({ name, value, items }) {
    const added = [...document.querySelectorAll("#section .item")].find((item) => !items.includes(item.id));
    const question = document.querySelector(`#section [name="was:${CSS.escape(value)}"]`)?.closest("[data-field]");
    const list = value.replace(/\[[^[\]]*\]$/, "");
    return (
      added ??
      named(name, value) ??
      question?.querySelector("input:not([type=hidden]), select, textarea") ??
      named("add", list) ??
      document.getElementById("section")
    );
  }

  /* The page stays where it is, unless what was asked for came to stand out of sight. */
  function stand(place) {
    place.focus({ preventScroll: true });
    const { top } = place.getBoundingClientRect();
    if (top < 0 || top > innerHeight) place.scrollIntoView();
  }

  /* Now, by the clock of this device, in the time zone of the site. */
  function fillInNow(button) {
    const field = button.closest("[data-field]");
    const zone = { timeZone: button.dataset.zone };
    const now = new Date(clockHere.now());
    sentHere.tellWhich(field, `o:${button.value}`, reading.offsetIn(reading.momentIn(button.dataset.zone, now.getTime())));
    field.querySelector('[name^="d:"]').value = now.toLocaleDateString("sv-SE", zone);
    field.querySelector('[name^="t:"]').value = now.toLocaleTimeString("sv-SE", zone);
    field.dispatchEvent(new Event("draft:typed", { bubbles: true }));
  }

  /* A reading that stands open is of the moment at which something is first entered into it. */
  function stampOpened(within) {
    const item = within.closest(".item[data-opened]");
    if (item && !item.querySelector('[name^="t:"]').value) fillInNow(item.querySelector("button[name=now]"));
  }

  const tell = (field, what) => field.dispatchEvent(new Event(what, { bubbles: true }));

  /* What else is so when an offer is taken: the service writes it with the answer itself. */
  function tellFollows(button) {
    forgetFollows(button);
    const { follows = "{}" } = button.dataset;
    const told = Object.assign(document.createElement("input"), { type: "hidden", name: `follows:${button.value}`, value: follows });
    if (follows !== "{}") button.closest("[data-field]").append(told);
  }

  function forgetFollows(within) {
    for (const told of within.closest("[data-field]")?.querySelectorAll("[name^='follows:']") ?? []) told.remove();
  }

  /* What the service would fill in, as it is told with the button. */
  function fillIn(button) {
    const filled = new Set();
    tellFollows(button);
    for (const [name, text] of JSON.parse(button.dataset.fills)) {
      if (name.startsWith("o:")) sentHere.tellWhich(button.closest("[data-field]"), name, text);
      for (const control of document.querySelectorAll(`#section [name="${CSS.escape(name)}"]`)) {
        if (control.type !== "checkbox" && control.type !== "radio") control.value = text;
        else if (control.value === text) control.checked = true;
        filled.add(control.closest("[data-field]"));
      }
    }
    for (const field of filled) if (field) tell(field, "draft:typed");
    stampOpened(button);
    if (button.dataset.goesOn) goOnIfKept(button.dataset.goesOn);
    const estimate = button.closest(".item")?.querySelector(".estimate");
    if (estimate && button.dataset.said) estimate.textContent = button.dataset.said;
  }

  /* What was treated after all has no reason why it was not. */
  function dropReason() {
    const chosen = document.querySelector('#section [name="v:record.why"]:checked:not([value=""])');
    if (!chosen) return;
    chosen.checked = false;
    tell(chosen.closest("[data-field]"), "draft:typed");
  }

  document.addEventListener("change", ({ target }) => {
    if (target.name === "v:record.result" && target.value === "treated") dropReason();
  });

  async function goOnIfKept(address) {
    if (await window.caches?.match(address)) location.assign(address);
  }

  const isTyped = (control) => /^[vt]:/.test(control.name) && (control.type === "radio" || control.type === "checkbox" ? control.checked : control.value);

  const says = (field) =>
    field.matches("[data-chosen]") || field.matches("[data-drawn]:has([data-placed])") || [...field.querySelectorAll("input, select, textarea")].some(isTyped);

  /* What was typed into the item on other screens of the treatment. */
  function typedElsewhere(item) {
    const path = item.dataset.chosen ?? item.dataset.begun.split(" ").at(-1);
    const [treatment] = document.querySelector("form[data-draft]").dataset.draft.split("/");
    return shelf.entries(treatment).filter(({ control }) => control.path.startsWith(`${path}.`));
  }

  /* An item that only this device knows goes with what was typed into it, and comes back with it. */
  function takeOut(item) {
    const place = document.createComment("");
    const fields = [...item.querySelectorAll("[data-field]")];
    for (const field of fields) tell(field, "draft:gone");
    const elsewhere = typedElsewhere(item);
    elsewhere.forEach(shelf.drop);
    item.replaceWith(place);
    offerUndo(item.querySelector("h3").textContent, () => {
      place.replaceWith(item);
      elsewhere.forEach(shelf.put);
      for (const field of fields) if (says(field)) tell(field, "draft:typed");
      stand(item);
    });
  }

  function offerUndo(what, undo) {
    const bar = document.getElementById("taken-out");
    const button = Object.assign(document.createElement("button"), { type: "button", className: "button second" });
    button.textContent = bar.dataset.undo;
    button.addEventListener("click", () => {
      bar.replaceChildren();
      undo();
    });
    const words = document.createElement("p");
    words.append(`${bar.dataset.words.replace("WHAT", what)} `, button);
    bar.replaceChildren(words);
    button.focus({ preventScroll: true });
  }

  /* What this device can add by itself. */
  async function addHere(button) {
    const added = newItems.add(button.value, button.dataset.addAs) ?? (await choosing.add(button));
    if (added) delete button.dataset.addAs;
    if (added?.dataset.beginsNow) fillInNow(added.querySelector("button[name=now]"));
    if (added) added.focus();
    else sayNotDone(button);
  }

  function sayNotDone(button) {
    const slot = button.parentElement.querySelector(".not-done") ?? document.createElement("p");
    slot.className = "keep not-done";
    slot.dataset.state = "waiting";
    slot.setAttribute("role", "status");
    button.after(slot);
    slot.textContent = document.querySelector("form[data-draft]").dataset.notDone;
  }

  /* Before what is typed is kept: what is typed by hand is not the time of Now, and no offer that was taken. */
  function typedByHand({ target }) {
    if (/^[dt]:/.test(target.name)) sentHere.forgetWhich(target.closest("[data-field]"));
    forgetFollows(target);
  }
  for (const kind of ["input", "change"]) window.addEventListener(kind, typedByHand, true);
  document.addEventListener("click", ({ target }) => {
    const button = target.closest("button[data-here]");
    if (button) fillIn(button);
  });
  document.addEventListener("change", ({ target }) => {
    if (target.closest(".item[data-opened]") && !/^[dt]:/.test(target.name)) stampOpened(target);
  });
  /* A form that is saved again presses no button again, although the last one may still have the focus. */
  document.addEventListener("htmx:configRequest", ({ detail }) => {
    if (!detail.elt.matches("form[data-draft]")) return;
    for (const button of detail.elt.querySelectorAll("button[name]")) delete detail.parameters[button.name];
  });
  /* Under an id of this device: the service may have added it although the answer was lost on the way. */
  document.addEventListener("htmx:configRequest", ({ detail }) => {
    if (!detail.elt.matches("form[data-draft] button[name=add]")) return;
    detail.elt.dataset.addAs ??= newItems.newId();
    detail.parameters["add-as"] = detail.elt.dataset.addAs;
  });
  document.addEventListener("htmx:beforeRequest", (event) => {
    const button = buttonOf(event);
    if (button) pressed = { name: button.name, value: button.value, items: itemIds() };
  });
  document.addEventListener("htmx:afterRequest", (event) => {
    const button = event.detail.successful ? null : buttonOf(event);
    if (!button) return;
    pressed = null;
    const begun = button.closest(".item[data-begun]");
    if (button.name === "add" && !event.detail.xhr?.status) addHere(button);
    else if (button.name === "left-over" && !event.detail.xhr?.status) choosing.useLeftOver(button).focus();
    else if (button.name === "draw" && !event.detail.xhr?.status && drawing.draw(button)) return;
    else if (button.name === "now") fillInNow(button);
    else if (button.dataset.fills) fillIn(button);
    else if (button.name === "remove" && begun?.contains(button)) takeOut(begun);
    else sayNotDone(button);
  });
  document.addEventListener("htmx:afterSettle", (event) => {
    if (event.target.id !== "section" || !pressed) return;
    stand(placeAfter(pressed));
    pressed = null;
  });
})();
