/* Records that were signed on this device and are not sent yet, each kept for the person who signed it. */
window.sealedHere = (() => {
  "use strict";
  const mine = () => `sealed:${document.body.dataset.person}/`;

  function of(treatment) {
    try {
      return JSON.parse(localStorage.getItem(mine() + treatment));
    } catch {
      return null;
    }
  }

  function all() {
    const keys = Object.keys(localStorage).filter((key) => key.startsWith(mine()));
    return keys.map((key) => of(key.slice(mine().length))).filter(Boolean);
  }

  const tell = () => document.dispatchEvent(new Event("sealed:changed"));

  function put(seal) {
    onDisk.put(mine() + seal.treatment, seal);
    tell();
  }

  function drop(treatment) {
    onDisk.drop(mine() + treatment);
    tell();
  }

  /* What is signed is not typed into: its form shows it, with the word that it waits to be sent or was refused. */
  function lockForm() {
    const form = document.querySelector("form[data-draft]");
    const treatment = form?.dataset.draft.split("/")[0];
    const seal = form && of(treatment);
    if (!seal) return;
    for (const control of form.elements) control.disabled = true;
    const note = document.getElementById(seal.refused ? "sealed-refused" : "sealed-note");
    if (!note) return;
    note.querySelector(".why")?.replaceChildren(seal.refused);
    note.hidden = false;
  }

  document.addEventListener("DOMContentLoaded", lockForm);
  return { of, all, put, drop };
})();
