/* What follows from the record as this device knows it, offered at a touch while there is no connection: what was
   applied, what is left of it, when people may come back. The service works it out in the same way. */
window.offersHere = (() => {
  "use strict";
  const QUIET_MS = 300;
  const MINUTE_MS = 60000;
  let alone = Boolean(document.documentElement.dataset.keptAt);
  let timer = null;

  const units = () => JSON.parse(document.getElementById("offers-here").dataset.units);

  /* In the base unit of volumes, or of times: numerator and denominator; undefined for what is none. */
  function sizeOf(amount, ratios) {
    if (!amount?.value || !ratios[amount.unit]) return undefined;
    const [value, per] = drawing.exact(amount.value);
    const [over, under] = ratios[amount.unit].map(BigInt);
    return [value * over, per * under];
  }

  const plus = ([a, b], [c, d]) => [a * d + c * b, b * d];

  /* The loads, where they are known, else the products and what they were put into. */
  function mixedIn(mix) {
    const parts = (mix.products ?? []).map(({ amount }) => amount);
    return mix.loads?.length ? mix.loads.map(({ volume }) => volume) : [...parts, mix.diluent?.amount];
  }

  function without(mix, other, ratios) {
    const mixed = mixedIn(mix);
    const sizes = mixed.map((each) => sizeOf(each, ratios));
    const gone = other ? sizeOf(other, ratios) : [0n, 1n];
    if (!gone || sizes.includes(undefined)) return null;
    const [above, below] = plus(sizes.reduce(plus), [-gone[0], gone[1]]);
    if (above < 0n) return null;
    const { unit } = mixed.at(-1);
    const [over, under] = ratios[unit].map(BigInt);
    return { value: drawing.written(above * under, below * over), unit };
  }

  function earliest({ timing, mixes }, ratios) {
    const limits = (mixes ?? []).flatMap(({ products }) => products ?? []).flatMap(({ label }) => label?.limits ?? []);
    const waits = limits.filter(({ of, min }) => of === "reentry" && min).map(({ min }) => sizeOf(min, ratios));
    const written = timing?.finished_at?.match(/^.+?(?:Z|([+-])([0-9]{2}):([0-9]{2}))$/);
    if (!written || !waits.length || waits.includes(undefined)) return null;
    const minutes = waits.map(([above, below]) => Number((above + below - 1n) / below));
    const offset = written[1] ? Number(`${written[1]}1`) * (Number(written[2]) * 60 + Number(written[3])) * MINUTE_MS : 0;
    return reading.writtenAt(Date.parse(written[0]) + Math.max(...minutes) * MINUTE_MS, offset);
  }

  const offers = {
    applied: (_document, mix, ratios) => without(mix, mix.left_over?.amount, ratios),
    "left-over": (_document, mix, ratios) => (mix.applied ? without(mix, mix.applied, ratios) : null),
    reentry: (known, _item, ratios) => earliest(known, ratios),
  };

  /* What is offered of an item of the document under this name; null while it can't be worked out. */
  const worksOut = (name, known, item, ratios) => offers[name](known, item, ratios);

  const offerPlace = (field) => field.querySelector("template[data-offer]");
  const ownerOf = (path) => path.replace(/\.[^.[\]]+$/, "");

  /* The item around the member that is asked for: `mixes[...]` of `mixes[...].left_over.amount`. */
  function itemAt(known, path) {
    const around = path.match(/^.+\]/)?.[0];
    return around ? placing.at(known, around) : known;
  }

  function shownOf(offer, { zone }) {
    if (typeof offer !== "string") return [["v", offer.value], ["u", offer.unit]];
    const [, day, time] = reading.momentIn(zone, Date.parse(offer)).match(/^(.+)T(.{8})/);
    return [["d", day], ["t", time.replace(/:00$/, "")], ["o", reading.offsetIn(reading.momentIn(zone, Date.parse(offer)))]];
  }

  function said(offer, field, { zone }) {
    if (typeof offer !== "string") {
      const unit = [...field.querySelectorAll("[name^='u:'] option")].find(({ value }) => value === offer.unit);
      return `${offer.value} ${unit?.text ?? offer.unit}`;
    }
    return new Date(offer).toLocaleString(document.documentElement.lang, { dateStyle: "medium", timeStyle: "short", timeZone: zone });
  }

  const isSame = (one, other) =>
    typeof one === "string" ? Date.parse(one) === Date.parse(other) : one.value === other?.value && one.unit === other?.unit;

  function followsOf(known, template) {
    const values = Object.entries(JSON.parse(template.dataset.follows));
    return Object.fromEntries(values.filter(([path]) => placing.at(known, ownerOf(path)) === null));
  }

  function offerIn(field, known, ratios) {
    const control = JSON.parse(field.dataset.control);
    const template = offerPlace(field);
    const item = itemAt(known, control.path);
    const offer = item && worksOut(template.dataset.offer, known, item, ratios);
    field.querySelector("button.offer")?.remove();
    if (!offer || isSame(offer, placing.at(known, control.path))) return;
    const follows = followsOf(known, template);
    const words = Object.keys(follows).length ? template.dataset.sayingSo : template.dataset.words;
    const button = Object.assign(document.createElement("button"), { type: "button", className: "button second offer", value: control.path });
    button.dataset.fills = JSON.stringify(shownOf(offer, control).map(([part, text]) => [`${part}:${control.path}`, text]));
    button.dataset.follows = JSON.stringify(follows);
    button.dataset.here = "yes";
    button.textContent = words.replace("WHAT", () => said(offer, field, control));
    template.after(button);
  }

  /* What follows from an offer that was taken on another screen stands where it is asked for. It is nothing that was
     typed here. */
  function showFollowing({ hidden }) {
    for (const [, told] of hidden.filter(([name]) => name.startsWith("follows:"))) {
      for (const [path, value] of Object.entries(JSON.parse(told))) {
        const choices = [...document.querySelectorAll(`#section [name="${CSS.escape(`v:${path}`)}"]`)];
        const choice = choices.find((each) => each.value === value);
        if (!choice || choices.some(({ checked }) => checked)) continue;
        choice.checked = true;
        choice.closest("[data-field]").querySelector('[name^="was:"]').value = JSON.stringify([value]);
      }
    }
  }

  async function offer() {
    const fields = [...document.querySelectorAll("#section [data-field]:has(template[data-offer])")];
    const [treatment] = document.querySelector("form[data-draft]").dataset.draft.split("/");
    const known = fields.length && alone ? await phoneDocument.of(treatment) : null;
    if (!known || sealedHere.of(treatment)) return;
    shelf.since(treatment, known.sheet.revision).forEach(showFollowing);
    for (const field of fields) offerIn(field, known.document, units());
  }

  function offerSoon() {
    clearTimeout(timer);
    if (alone) timer = setTimeout(offer, QUIET_MS);
  }

  document.addEventListener("htmx:afterRequest", ({ detail }) => {
    if (detail.requestConfig?.verb !== "post") return;
    alone = !detail.successful && (!detail.xhr?.status || detail.xhr.status >= 500);
    offerSoon();
  });
  for (const kind of ["change", "draft:typed", "draft:gone", "draft:back", "DOMContentLoaded"]) document.addEventListener(kind, offerSoon);

  return { worksOut };
})();
