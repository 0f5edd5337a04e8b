/* Signs a record on this device while there is no signal, on the kept page that asks for the signature. */
(() => {
  "use strict";
  const box = () => document.getElementById("seal");
  const words = () => box().dataset;

  const complain = (text) => {
    const said = box().querySelector(".sentence");
    said.textContent = text;
    said.focus();
  };

  function show(part) {
    for (const each of box().querySelectorAll("[data-part]")) each.hidden = each.dataset.part !== part;
  }

  /* A box for each thing that this device can tell and that is open, as the service asks for a reason. */
  function askReasons(open) {
    const pattern = box().querySelector("template");
    const rows = open.map((each, at) => {
      const row = pattern.content.cloneNode(true);
      row.querySelector("label").append(each.words);
      row.querySelector("[name=finding]").value = JSON.stringify([[each.rule, each.about]]);
      row.querySelector("label").htmlFor = `seal-reason-${at}`;
      Object.assign(row.querySelector("textarea"), { id: `seal-reason-${at}`, name: `seal-reason-${at}` });
      return row;
    });
    box().querySelector(".reasons").replaceChildren(...rows);
    box().querySelector("[data-when=open]").hidden = !open.length;
  }

  function complainOfReason(reason) {
    const about = reason.closest(".field").querySelector("label").textContent;
    complain(words().reasons.replace("WHAT", about));
    reason.focus();
  }

  async function openIn({ sheet, document: made }) {
    const rules = await window.limitsKnown?.rulesOf(sheet);
    if (!rules) return [];
    limitsKnown.say(rules, made);
    return limitsAndMusts.judge(rules, made, document.documentElement.lang).filter(({ level }) => level === "required");
  }

  function answersTo(open) {
    return open.map(({ rule, about }, at) => ({
      rule,
      about,
      reason: box().querySelector(`#seal-reason-${at}`)?.value.trim() ?? "",
    }));
  }

  async function sealed(known, answers, pin) {
    const zone = known.document.site?.time_zone ?? "UTC";
    const claimedAt = reading.momentIn(zone, clockHere.now());
    const deviceAt = reading.momentIn(zone, Date.now());
    const made = { ...known.document, timing: { ...known.document.timing, recorded_at: claimedAt } };
    const statement = {
      schema: "seal/1",
      meaning: "signed",
      treatment: words().treatment,
      document: await canonical.digest(made),
      answers,
      by: known.sheet.signer,
      claimed_at: claimedAt,
      device_at: deviceAt,
    };
    return {
      treatment: words().treatment,
      number: known.sheet.number,
      address: words().action,
      sent: {
        key: deviceKey.kept(known.sheet.firm).id,
        document: canonical.written(made),
        answers,
        claimed_at: claimedAt,
        device_at: deviceAt,
        value: await deviceKey.sign(known.sheet.firm, pin, canonical.bytes(statement)),
        proof: known.sheet.proof,
      },
    };
  }

  async function sign(open) {
    const known = await phoneDocument.of(words().treatment);
    if (mending.of(known).length) return begin();
    const answers = answersTo(open);
    const missing = answers.findIndex(({ reason }) => !reason);
    if (missing >= 0) return complainOfReason(box().querySelector(`#seal-reason-${missing}`));
    try {
      const all = [...answers, ...reasonsBefore.given()];
      sealedHere.put(await sealed(known, all, box().querySelector("[name=pin]").value));
    } catch (error) {
      if (!(error instanceof deviceKey.WrongPin)) throw error;
      return complain(error.message === "0" ? words().erased : words().wrongPin.replace("TRIES", error.message));
    }
    await begin();
    const said = box().querySelector("[data-signed-here]");
    said.focus({ preventScroll: true });
    said.scrollIntoView({ block: "center" });
  }

  /* Which part of the box is shown: what was signed, what is missing, or the form. */
  async function begin() {
    if (!box() || !document.documentElement.dataset.keptAt) return;
    const form = document.querySelector("form[data-signs]");
    form.hidden = true;
    box().hidden = false;
    answersHere.show(words().treatment, Number(form.elements.revision.value), box());
    const seal = sealedHere.of(words().treatment);
    if (seal) return show(seal.refused ? "refused" : "done");
    const known = await phoneDocument.of(words().treatment);
    if (!known) return show("unknown");
    if (!deviceKey.kept(known.sheet.firm)) return show("no-key");
    const toMend = mending.of(known);
    mending.show(box().querySelector("[data-part=mend] ul"), toMend);
    if (toMend.length) return show("mend");
    const open = await openIn(known);
    askReasons(open);
    reasonsBefore.offer(known);
    reasonsKept.bringBack();
    document.querySelector("#waiting strong").textContent = words().belongs;
    show("form");
    box().querySelector("form").onsubmit = async (event) => {
      event.preventDefault();
      const button = event.submitter ?? event.target.querySelector("button");
      button.disabled = true;
      await sign(open).catch(() => complain(words().failed));
      button.disabled = false;
    };
  }

  document.addEventListener("DOMContentLoaded", () => {
    begin();
    box()?.querySelector("[data-takes-back]").addEventListener("click", () => {
      sealedHere.drop(words().treatment);
      begin();
    });
  });
})();
