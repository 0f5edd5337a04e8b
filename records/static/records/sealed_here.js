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

  const put = (seal) => onDisk.put(mine() + seal.treatment, seal);
  const drop = (treatment) => onDisk.drop(mine() + treatment);

  /* What is signed is not typed into: its form shows it, with the word that it waits to be sent. */
  function lockForm() {
    const form = document.querySelector("form[data-draft]");
    const treatment = form?.dataset.draft.split("/")[0];
    if (!form || !of(treatment)) return;
    for (const control of form.elements) control.disabled = true;
    const note = document.getElementById("sealed-note");
    if (note) note.hidden = false;
  }

  document.addEventListener("DOMContentLoaded", lockForm);
  return { of, all, put, drop };
})();
