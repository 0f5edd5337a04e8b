/* The time by the service's clock, as far as this device knows how much its own differs. */
window.clockHere = (() => {
  "use strict";
  const DIFFERS_BY_MS = 5 * 60 * 1000;
  const KEPT_AS = "clock-ahead-ms";

  function ahead() {
    try {
      const kept = Number(localStorage.getItem(KEPT_AS));
      return Math.abs(kept) > DIFFERS_BY_MS ? kept : 0;
    } catch {
      return 0;
    }
  }

  function compare(serviceTime, asked, answered) {
    try {
      localStorage.setItem(KEPT_AS, String(Math.round((asked + answered) / 2 - Date.parse(serviceTime))));
    } catch {
      /* Without storage each page asks anew. */
    }
  }

  const now = () => Date.now() - ahead();

  /* On a page that has a place for it: that this device's clock is wrong, and by how much. */
  function say() {
    const note = document.getElementById("clock-off");
    if (!note) return;
    const minutes = Math.round(Math.abs(ahead()) / 60000);
    note.hidden = !ahead();
    note.textContent = note.dataset[ahead() > 0 ? "ahead" : "behind"].replace("MINUTES", minutes);
  }

  document.addEventListener("DOMContentLoaded", say);
  return { ahead, compare, now, say };
})();
