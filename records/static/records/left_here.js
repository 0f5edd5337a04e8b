/* Says how much of this person's is only on this device, where they can sign out of it. */
(() => {
  "use strict";
  const note = () => document.getElementById("left-here");
  let saying = Promise.resolve();

  async function counted() {
    const photos = await photoShelf.waiting().catch(() => []);
    return { entries: shelf.entries().length, signed: sealedHere.all().length, photos: photos.length };
  }

  async function say() {
    const left = await counted();
    for (const item of note().querySelectorAll("[data-counts]")) {
      const count = left[item.dataset.counts];
      item.hidden = !count;
      item.querySelector("span").textContent = count;
    }
    note().hidden = !Object.values(left).some(Boolean);
  }

  /* One after the other, so that a later count is never overtaken by an earlier one. */
  function sayAgain() {
    saying = saying.then(say, say);
  }

  for (const again of ["DOMContentLoaded", "photos:changed"]) document.addEventListener(again, sayAgain);
})();
