/* Reasons that were typed on the page that asks for the signature are kept on this device until that is signed,
   for the person who typed them: on that page as the service draws it, and on the one that this device keeps. */
window.reasonsKept = (() => {
  "use strict";
  const keyOf = (treatment) => `reasons:${document.body.dataset.person}/${treatment}`;
  const here = () => keyOf(document.getElementById("waiting").dataset.treatment);
  const boxes = () => [...document.querySelectorAll(".field:has(> [name=finding])")];
  const findingsOf = (box) => JSON.parse(box.querySelector("[name=finding]").value).map((each) => JSON.stringify(each));

  function kept() {
    try {
      return JSON.parse(localStorage.getItem(here()))?.reasons ?? {};
    } catch {
      return {};
    }
  }

  function keep(box) {
    const reason = box.querySelector("textarea").value;
    const reasons = { ...kept(), ...Object.fromEntries(findingsOf(box).map((each) => [each, reason])) };
    try {
      onDisk.put(here(), { reasons });
    } catch {
      /* Without room the page alone still holds it. */
    }
  }

  /* Into the boxes that are empty; it then counts as what the page came with. */
  function bringBack() {
    const reasons = kept();
    for (const box of boxes()) {
      const area = box.querySelector("textarea");
      const reason = findingsOf(box).map((each) => reasons[each]).find(Boolean);
      if (!area.value && reason) area.value = area.defaultValue = reason;
    }
  }

  const forget = (treatment) => onDisk.drop(keyOf(treatment));

  document.addEventListener("input", ({ target }) => {
    const box = target.matches("textarea") && target.closest(".field:has(> [name=finding])");
    if (box) keep(box);
  });
  document.addEventListener("DOMContentLoaded", () => {
    const signed = document.querySelector("[data-signed-treatment]");
    if (signed) forget(signed.dataset.signedTreatment);
    else bringBack();
  });

  return { bringBack, forget };
})();
