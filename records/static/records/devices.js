/* Sets this device up for signing without a signal. The locked key is on the device before the service knows of it:
   who leaves the page before the answer is there finds the device set up all the same. */
(() => {
  "use strict";
  const form = () => document.getElementById("set-up");
  const begunAt = () => `device-key:${document.body.dataset.person}/${form().dataset.firm}/begun`;
  let asking = false;

  function begun() {
    try {
      return JSON.parse(localStorage.getItem(begunAt()));
    } catch {
      return null;
    }
  }

  async function digestOf(spki) {
    const bytes = Uint8Array.from(atob(spki.replaceAll("-", "+").replaceAll("_", "/")), (c) => c.charCodeAt(0));
    const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
    return `sha256:${[...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("")}`;
  }

  function keep({ public: _, ...key }, id) {
    deviceKey.keep(form().dataset.firm, { ...key, id });
    onDisk.drop(begunAt());
  }

  /* The service has taken the key, and its answer never came. */
  async function takeUpBegun() {
    const key = begun();
    if (!key || !window.crypto?.subtle || deviceKey.kept(form().dataset.firm)) return;
    const digest = await digestOf(key.public);
    const taken = [...document.querySelectorAll("[data-digest]")].find((row) => row.dataset.digest === digest);
    if (taken) keep(key, taken.dataset.key);
  }

  function complain(control, words) {
    const field = form().elements[control]?.closest(".field") ?? form();
    for (const said of form().querySelectorAll(".sentence")) said.textContent = "";
    field.querySelector(".sentence").textContent = words;
    form().elements[control]?.focus();
  }

  async function setUp() {
    const { device, pin, again, password } = form().elements;
    const words = form().dataset;
    if (pin.value.length < deviceKey.SHORTEST_PIN) return complain("pin", words.short);
    if (deviceKey.isGuessed(pin.value)) return complain("pin", words.guessed);
    if (pin.value !== again.value) return complain("again", words.differ);
    const made = await deviceKey.make(pin.value, words.challenge);
    const data = new FormData(form());
    data.delete("pin");
    data.delete("again");
    data.append("public", made.public);
    data.append("proof", made.proof);
    const key = await deviceKey.wrapped(words.firm, { ...made.toKeep, public: made.public, device: device.value });
    onDisk.put(begunAt(), key);
    await onDisk.written();
    const answer = await fetch(form().action, { method: "POST", body: data });
    const said = await answer.json();
    if (!answer.ok) {
      onDisk.drop(begunAt());
      return complain(said.control, said.fault);
    }
    keep(key, said.key);
    password.value = "";
    asking = false;
    location.reload();
  }

  async function begin() {
    await takeUpBegun();
    const hasKey = deviceKey.kept(form().dataset.firm);
    const able = window.crypto?.subtle;
    document.getElementById("is-set-up").hidden = !hasKey;
    document.getElementById("not-able").hidden = Boolean(able);
    form().hidden = Boolean(hasKey) || !able;
    for (const row of document.querySelectorAll("[data-own] [data-key]")) {
      row.querySelector(`[data-when=${row.dataset.key === hasKey?.id ? "here" : "elsewhere"}]`).hidden = false;
    }
  }

  document.addEventListener("DOMContentLoaded", begin);
  window.addEventListener("beforeunload", (event) => asking && event.preventDefault());
  document.addEventListener("submit", (event) => {
    if (event.target.matches("[data-ends]") && deviceKey.kept(form().dataset.firm)?.id === event.target.dataset.ends) {
      deviceKey.forget(form().dataset.firm);
    }
    if (event.target !== form()) return;
    event.preventDefault();
    if (asking) return;
    asking = true;
    setUp()
      .catch(() => complain("device", form().dataset.failed))
      .finally(() => (asking = false));
  });
})();
