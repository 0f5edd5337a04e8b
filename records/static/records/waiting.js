/* On the pages that stand outside the form: sends what was typed into this treatment and is still only on this
   device, names what cannot be sent, and keeps the record from being signed without it. */
(() => {
  "use strict";
  const RETRY_AFTER_MS = 5000;
  const PATIENCE_MS = 30000;
  const why = new Map(); // key of an entry -> why it was not taken
  const leftOut = []; // entries that a touch took off this device, until the page is left
  let leaving = false;

  const note = () => document.getElementById("waiting");
  const leftOutNote = () => document.getElementById("left-out");
  const rowsSaid = () => document.getElementById("rows-said");
  const waiting = () => shelf.entries(note().dataset.treatment);

  function posted(entry) {
    const data = new FormData();
    data.append("csrfmiddlewaretoken", document.querySelector("[name=csrfmiddlewaretoken]").value);
    data.append("form", entry.form);
    data.append("person", document.body.dataset.person);
    data.append("base_revision", entry.base);
    for (const [name, value] of entry.hidden) data.append(name, value);
    for (const [name, choice, state] of entry.states) {
      if (choice === null) data.append(name, state);
      else if (state) data.append(name, choice);
    }
    return data;
  }

  const revisionIn = (page) => Number(page.getElementById("base-revision")?.value ?? 0);
  const treatmentOf = (entry) => entry.key.split("/")[1];

  /* Whether the server has it now. */
  async function send(entry) {
    const words = note().dataset;
    try {
      const answer = await fetch(entry.action, {
        method: "POST",
        body: posted(entry),
        headers: { "HX-Request": "true" },
        signal: AbortSignal.timeout(PATIENCE_MS),
      });
      if (answer.status < 500) document.dispatchEvent(new Event("line:answered"));
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      if (answer.status >= 500) why.set(entry.key, words.offline);
      else if (!answer.ok) why.set(entry.key, { 401: words.signedOut, 409: words.locked }[answer.status] ?? words.refused);
      else if (page.querySelector(".conflict")) why.set(entry.key, words.twice);
      else if (!taken(page, entry)) why.set(entry.key, words.gone);
      else {
        sayOfRows(page);
        shelf.settle(entry, revisionIn(page));
        return true;
      }
    } catch {
      why.set(entry.key, words.offline);
    }
    return false;
  }

  /* A row that was chosen here and says something else by now. */
  function sayOfRows(page) {
    const said = [...page.querySelectorAll("#rows-told p")];
    rowsSaid().append(...said);
    rowsSaid().hidden = !rowsSaid().children.length;
  }

  /* The server answers with the place for remarks on each question that it was sent and knows, within a template
     where the whole question is drawn anew. */
  function taken(page, entry) {
    const place = `#${CSS.escape(entry.field.replace(/^f-/, "r-"))}`;
    const templates = [...page.querySelectorAll("template")].map(({ content }) => content);
    return [page, ...templates].some((part) => part.querySelector(place));
  }

  function whatOf(entry) {
    const where = note().dataset.treatment ? [entry.section] : [entry.treatment, entry.section];
    return `${where.join(", ")}: ${entry.asks}`;
  }

  function rowOf(entry) {
    const row = note().querySelector("template").content.cloneNode(true);
    Object.assign(row.querySelector("a"), { href: entry.action, textContent: whatOf(entry) });
    row.querySelector(".text").textContent = entry.text;
    row.querySelector(".why").textContent = why.get(entry.key) ?? "";
    const button = row.querySelector("button");
    button.setAttribute("aria-label", `${button.textContent}: ${whatOf(entry)}`);
    button.addEventListener("click", () => leaveOut(entry));
    if (sealedHere.of(treatmentOf(entry))) button.remove(); // the signature is over it
    return row;
  }

  function leftOutRowOf(entry) {
    const row = leftOutNote().querySelector("template").content.cloneNode(true);
    row.querySelector(".text").textContent = `${whatOf(entry)} “${entry.text}”`;
    row.querySelector("button").addEventListener("click", () => takeBack(entry));
    return row;
  }

  function leaveOut(entry) {
    shelf.drop(entry);
    leftOut.push(entry);
    show();
    showLeftOut();
    leftOutNote().querySelector("li:last-child button").focus();
  }

  function takeBack(entry) {
    shelf.put(entry);
    leftOut.splice(leftOut.indexOf(entry), 1);
    show();
    showLeftOut();
    note().focus();
    sendAll();
  }

  function show() {
    const list = note().querySelector("ul");
    list.replaceChildren(...waiting().map(rowOf));
    note().hidden = !list.children.length;
  }

  /* Drawn when it changes alone: its button may have the focus. */
  function showLeftOut() {
    leftOutNote().querySelector("ul").replaceChildren(...leftOut.map(leftOutRowOf));
    leftOutNote().hidden = !leftOut.length;
  }

  const isTypedInto = () =>
    [...document.querySelectorAll("main textarea, main input[type=password]")].some((box) => box.value !== box.defaultValue);

  /* `pressed`: the submission of the signature that waits for it. A page that is not up to date any more comes back
     from the service as it is now, unsigned. */
  async function sendAll(pressed = null) {
    if (!note().dataset.open) {
      show();
      return settled();
    }
    let went = 0;
    for (const entry of waiting()) {
      if (await send(entry)) went += 1;
    }
    if (leaving) return;
    if (went && !pressed && !isTypedInto() && !leftOut.length && rowsSaid().hidden) return location.reload();
    show();
    settled();
    if (pressed && !waiting().length) pressed.target.requestSubmit(pressed.submitter);
    if ([...why.values()].includes(note().dataset.offline) && waiting().length) setTimeout(() => sendAll(), RETRY_AFTER_MS);
  }

  /* What was typed is sent, or waits: of the treatments where nothing waits, what was signed may go. */
  function settled() {
    const { offline, signedOut } = note().dataset;
    const waits = waiting().filter(({ key }) => [offline, signedOut].includes(why.get(key)));
    const treatments = waits.map(treatmentOf);
    document.dispatchEvent(new CustomEvent("waiting:settled", { detail: { treatments } }));
  }

  async function begin() {
    await onDisk.inLine;
    if (waiting().length) sendAll();
    else settled();
  }

  document.addEventListener("submit", (event) => {
    if (!event.target.matches("[data-signs]") || !waiting().length) return;
    event.preventDefault();
    show();
    note().focus();
    sendAll(event);
  });
  window.addEventListener("beforeunload", () => {
    leaving = true;
  });
  for (const again of ["DOMContentLoaded", "waiting:again"]) document.addEventListener(again, begin);
  document.addEventListener("sealed:changed", show);
  window.addEventListener("online", begin);
})();
