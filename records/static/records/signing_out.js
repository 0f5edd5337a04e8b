/* Signs out where there is a connection; where there is none it says so, and that one is still signed in. */
(() => {
  "use strict";
  const PATIENCE_MS = 15000;
  const note = () => document.getElementById("not-signed-out");
  let asking = false;

  /* Of the person who is signed in now, not of the page, which may have been kept for days. */
  const token = () => document.cookie.match(/(?:^|; )csrftoken=([^;]+)/)?.[1] ?? "";

  /* The page that the service answers with, null where it could not be asked. */
  async function askToSignOut(address) {
    const options = { method: "POST", headers: { "X-CSRFToken": token() }, signal: AbortSignal.timeout(PATIENCE_MS) };
    const answer = await fetch(address, options).catch(() => null);
    return answer?.ok ? answer.url : null;
  }

  async function signOut(form) {
    if (asking) return;
    asking = true;
    note().hidden = true;
    const next = await askToSignOut(form.action);
    asking = false;
    if (next) return location.assign(next);
    note().hidden = false;
    note().focus();
  }

  document.addEventListener("submit", (event) => {
    if (!event.target.matches("[data-signs-out]")) return;
    event.preventDefault();
    signOut(event.target);
  });
  document.addEventListener("DOMContentLoaded", () => {
    note().hidden = !document.documentElement.dataset.keptAt;
  });
})();
