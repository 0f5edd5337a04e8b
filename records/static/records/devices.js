/* Sets this device up for signing without a signal. */
(() => {
  "use strict";
  const form = () => document.getElementById("set-up");

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
    const answer = await fetch(form().action, { method: "POST", body: data });
    const said = await answer.json();
    if (!answer.ok) return complain(said.control, said.fault);
    deviceKey.keep(words.firm, { ...made.toKeep, id: said.key, device: device.value });
    password.value = "";
    location.reload();
  }

  function begin() {
    const hasKey = deviceKey.kept(form().dataset.firm);
    const able = window.crypto?.subtle;
    document.getElementById("is-set-up").hidden = !hasKey;
    document.getElementById("not-able").hidden = Boolean(able);
    form().hidden = Boolean(hasKey) || !able;
  }

  document.addEventListener("DOMContentLoaded", begin);
  document.addEventListener("submit", (event) => {
    if (event.target.matches("[data-ends]") && deviceKey.kept(form().dataset.firm)?.id === event.target.dataset.ends) {
      deviceKey.forget(form().dataset.firm);
    }
    if (event.target !== form()) return;
    event.preventDefault();
    setUp().catch(() => complain("device", form().dataset.failed));
  });
})();
