/* Sends what was signed on this device, once what was typed and photographed before it is sent; says what waits, and what came of it. */
(() => {
  "use strict";
  const RETRY_AFTER_MS = 5000;
  const PATIENCE_MS = 30000;
  const note = () => document.getElementById("sealed");
  const words = () => note().dataset;
  const token = () => document.querySelector("[name=csrfmiddlewaretoken]").value;
  let busy = false;

  function row(text, address) {
    const item = document.createElement("li");
    const said = address ? Object.assign(document.createElement("a"), { href: address }) : item;
    said.textContent = text;
    if (address) item.append(said);
    return item;
  }

  function show(lines) {
    note().querySelector("ul").replaceChildren(...lines);
    note().hidden = !lines.length;
  }

  const waiting = () => sealedHere.all().filter(({ treatment }) => !words().treatment || words().treatment === treatment);

  /* What the page says of it afterwards; null while it still waits. */
  async function send(seal) {
    const body = JSON.stringify({ ...seal.sent, sent_at: reading.momentIn("UTC", Date.now()) });
    const headers = { "Content-Type": "application/json", "X-CSRFToken": token() };
    const signal = AbortSignal.timeout(PATIENCE_MS);
    const answer = await fetch(seal.address, { method: "POST", body, headers, signal });
    if (answer.status === 422) {
      sealedHere.drop(seal.treatment);
      return { text: `${seal.number}: ${words().notSigned} ${(await answer.json()).fault}` };
    }
    if (!answer.ok || answer.redirected) return null;
    const { signed, whyNot } = await answer.json();
    sealedHere.drop(seal.treatment);
    if (signed) reasonsKept.forget(seal.treatment);
    if (signed) return { text: `${seal.number}: ${words().signed}`, address: signed };
    return { text: `${seal.number}: ${words().notSigned} ${whyNot.join(" ")}`, address: seal.address.replace(/seal\/$/, "") };
  }

  async function sendAll({ detail }) {
    if (busy || !note()) return;
    busy = true;
    const lines = [];
    let again = false;
    for (const seal of waiting()) {
      const photosFirst = await window.photoShelf?.mayCome(seal.treatment);
      const typedFirst = detail.treatments.includes(seal.treatment);
      const came = typedFirst || photosFirst ? null : await send(seal).catch(() => null);
      again ||= !came;
      lines.push(came ? row(came.text, came.address) : row(`${seal.number}: ${words().waits}`));
    }
    show(lines);
    busy = false;
    if (again) setTimeout(() => document.dispatchEvent(new Event("waiting:again")), RETRY_AFTER_MS);
  }

  document.addEventListener("waiting:settled", sendAll);
})();
