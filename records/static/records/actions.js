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
    field.querySelector('[name^="d:"]').value = now.toLocaleDateString("sv-SE", zone);
    field.querySelector('[name^="t:"]').value = now.toLocaleTimeString("sv-SE", zone);
    field.dispatchEvent(new Event("draft:typed", { bubbles: true }));
  }

  /* An item that only this device knows goes with what was typed into it. */
  function takeOut(item) {
    for (const field of item.querySelectorAll("[data-field]")) field.dispatchEvent(new Event("draft:gone", { bubbles: true }));
    item.remove();
  }

  function sayNotDone(button) {
    const slot = button.parentElement.querySelector(".not-done") ?? document.createElement("p");
    slot.className = "keep not-done";
    slot.dataset.state = "waiting";
    slot.setAttribute("role", "status");
    button.after(slot);
    slot.textContent = document.querySelector("form[data-draft]").dataset.notDone;
  }

  document.addEventListener("htmx:beforeRequest", (event) => {
    const button = buttonOf(event);
    if (button) pressed = { name: button.name, value: button.value, items: itemIds() };
  });
  document.addEventListener("htmx:afterRequest", (event) => {
    const button = event.detail.successful ? null : buttonOf(event);
    if (!button) return;
    pressed = null;
    const added = button.name === "add" && !event.detail.xhr?.status && newItems.add(button.value);
    const begun = button.closest(".item[data-begun]");
    if (added && added.dataset.beginsNow) fillInNow(added.querySelector("button[name=now]"));
    if (added) added.focus();
    else if (button.name === "now") fillInNow(button);
    else if (button.name === "remove" && begun?.contains(button)) takeOut(begun);
    else sayNotDone(button);
  });
  document.addEventListener("htmx:afterSettle", (event) => {
    if (event.target.id !== "section" || !pressed) return;
    stand(placeAfter(pressed));
    pressed = null;
  });
})();
