/* Sends what was signed on this device, once what was typed and photographed before it is sent; says what waits, and what came of it.
   What the service refuses it has not stored: it stays here until its person takes the signature back. */
(() => {
  "use strict";
  const RETRY_AFTER_MS = 5000;
  const PATIENCE_MS = 30000;
  const note = () => document.getElementById("sealed");
  const words = () => note().dataset;
  const token = () => document.querySelector("[name=csrfmiddlewaretoken]").value;
  const tried = new Set(); // refused signatures that this page has sent again
  let busy = false;

  const link = (text, href) => Object.assign(document.createElement("a"), { textContent: text, href });

  function row(...parts) {
    const item = document.createElement("li");
    item.append(...parts);
    return item;
  }

  /* On a page of its treatment it is taken back at once; elsewhere a link leads there. */
  function refusedRow(seal) {
    const wayBack = words().treatment ? takesBack(seal) : link(words().lookAtIt, seal.address.replace(/seal\/$/, "sign/"));
    return row(`${seal.number}: ${words().refused} ${seal.refused} `, wayBack);
  }

  function takesBack({ treatment }) {
    const button = Object.assign(document.createElement("button"), { type: "button", className: "button second" });
    button.textContent = words().takeBack;
    button.addEventListener("click", () => {
      sealedHere.drop(treatment);
      location.reload();
    });
    return button;
  }

  function show(lines) {
    note().querySelector("ul").replaceChildren(...lines);
    note().hidden = !lines.length;
    note().classList.toggle("alarm", waiting().some(({ refused }) => refused));
  }

  const waiting = () => sealedHere.all().filter(({ treatment }) => !words().treatment || words().treatment === treatment);

  /* What the page says of it afterwards; null while it still waits. */
  async function send(seal) {
    const body = JSON.stringify({ ...seal.sent, sent_at: reading.momentIn("UTC", Date.now()) });
    const headers = { "Content-Type": "application/json", "X-CSRFToken": token() };
    const signal = AbortSignal.timeout(PATIENCE_MS);
    if (seal.refused) tried.add(seal.sent.value);
    const answer = await fetch(seal.address, { method: "POST", body, headers, signal });
    document.dispatchEvent(new Event("line:answered"));
    if (answer.status === 422) return refuse(seal, (await answer.json()).fault);
    if (!answer.ok || answer.redirected) return null;
    const { signed, whyNot } = await answer.json();
    sealedHere.drop(seal.treatment);
    if (signed) reasonsKept.forget(seal.treatment);
    if (signed) return link(`${seal.number}: ${words().signed}`, signed);
    return link(`${seal.number}: ${words().notSigned} ${whyNot.join(" ")}`, seal.address.replace(/seal\/$/, ""));
  }

  /* Unless it was taken back meanwhile. */
  function refuse(seal, fault) {
    tried.add(seal.sent.value);
    if (sealedHere.of(seal.treatment)?.sent.value === seal.sent.value) sealedHere.put({ ...seal, refused: fault });
    return null;
  }

  async function sendAll({ detail }) {
    if (busy || !note()) return;
    busy = true;
    const lines = [];
    let again = false;
    for (const seal of waiting()) {
      const photosFirst = await window.photoShelf?.mayCome(seal.treatment);
      const typedFirst = detail.treatments.includes(seal.treatment);
      const rests = typedFirst || photosFirst || tried.has(seal.sent.value);
      const came = rests ? null : await send(seal).catch(() => null);
      const still = sealedHere.of(seal.treatment);
      again ||= !came && !still?.refused;
      if (came) lines.push(row(came));
      else if (still) lines.push(still.refused ? refusedRow(still) : row(`${seal.number}: ${words().waits}`));
    }
    show(lines);
    busy = false;
    if (again) setTimeout(() => document.dispatchEvent(new Event("waiting:again")), RETRY_AFTER_MS);
  }

  document.addEventListener("waiting:settled", sendAll);
})();
