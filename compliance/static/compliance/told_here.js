/* Without a connection this phone says by itself which limits are broken and which members are missing: beside the
   fields of the form, and in a list on the treatment's own page. */
(() => {
  "use strict";
  const QUIET_MS = 300;
  let alone = Boolean(document.documentElement.dataset.keptAt);
  let timer = null;

  const pattern = () => document.getElementById("told-here");
  const language = () => document.documentElement.lang.slice(0, 2);
  const slugOf = (path) => path.replace(/[^a-z0-9]+/g, "-").replace(/^-+|-+$/g, "");

  /* The path and what it stands in, the innermost first. */
  function around(path) {
    const names = path.split(".");
    return names.flatMap((_name, at) => {
      const owner = names.slice(0, names.length - at).join(".");
      return owner.endsWith("]") ? [owner, owner.replace(/\[[^[\]]*\]$/, "")] : [owner];
    });
  }

  function placeOf({ about }, known) {
    for (const path of about) {
      const places = around(placing.byIds(known, path)).map((owner) => document.getElementById(`r-${slugOf(owner)}`));
      const place = places.find((each) => each);
      if (place) return place;
    }
    return null;
  }

  const saysTheSame = (one, other) => one.state === other.state && (one.words === other.words || one.words.endsWith(`: ${other.words}`));

  /* Each sentence once, with all who say it. */
  function saidOnce(told) {
    const merged = [];
    for (const each of told) {
      const same = merged.find((one) => saysTheSame(one, each) || saysTheSame(each, one));
      const source = [each.cite[language()], each.doubt?.[language()]].filter(Boolean).join(". ");
      if (!same) merged.push({ ...each, sources: new Set([source]), advised: each.level !== "required" });
      else if (each.words.length > same.words.length) same.words = each.words;
      if (!same) continue;
      same.sources.add(source);
      same.advised &&= each.level !== "required";
    }
    return merged;
  }

  function remarkOf(told) {
    const remark = pattern().content.cloneNode(true).firstElementChild;
    remark.classList.add(told.state === "missing" ? "to_do" : "not_met");
    remark.classList.toggle("advised", told.advised);
    remark.querySelector(".advised-only").hidden = !told.advised;
    remark.querySelector(".state").textContent = pattern().dataset[{ missing: "missing", mend: "mend" }[told.state] ?? "notMet"];
    remark.querySelector(".told-by").hidden = !told.sources.size;
    remark.querySelector(".words").textContent = told.words;
    remark.querySelector(".source").textContent = [...told.sources].join("; ");
    return remark;
  }

  function clear() {
    limitsKnown.clear();
    for (const told of document.querySelectorAll(".told-here")) told.remove();
    for (const remark of document.querySelectorAll(".remark[data-outdated]")) {
      remark.hidden = false;
      delete remark.dataset.outdated;
    }
  }

  const serversOwn = (place) => [...place.querySelectorAll(".remark:not(.told-here):not([hidden])")];
  const says = (remark, { words }) => remark.querySelector("p").textContent.includes(words);

  /* Where it is asked for that there is none of what was entered. */
  const placesOfNone = ({ control, text }) => (text ? around(control.path).map((path) => `r-${slugOf(path)}-none`) : []);

  /* What the service said when the page was kept: of a value that was typed over since, or mended elsewhere. */
  function hideOutdated(mended, entries) {
    const typed = new Set(entries.flatMap((entry) => [entry.field.replace(/^f-/, "r-"), ...placesOfNone(entry)]));
    for (const remark of document.querySelectorAll(".remark:not(.told-here)")) {
      if (!typed.has(remark.parentElement.id) && !mended.some((each) => says(remark, each))) continue;
      remark.hidden = true;
      remark.dataset.outdated = "yes";
    }
  }

  function sayBesideFields(told, known) {
    const unread = new Set(known.unreadable.map(({ field }) => field.replace(/^f-/, "r-")));
    for (const each of told) {
      const place = placeOf(each, known.document);
      if (!place || unread.has(place.id) || serversOwn(place).some((remark) => says(remark, each))) continue;
      place.append(remarkOf(each));
    }
  }

  function sayInList(list, told) {
    const { one, several, none } = list.dataset;
    list.querySelector(".count").textContent = { 0: none, 1: one }[told.length] ?? several.replace("COUNT", told.length);
    list.querySelector("ul").replaceChildren(
      ...told.map((each) => {
        const row = document.createElement("li");
        row.append(remarkOf(each));
        return row;
      }),
    );
    list.hidden = false;
  }

  const toMend = (known) =>
    mending.faultsOf(known.document).map(({ path, words }) => ({ about: [path], state: "mend", words, sources: new Set(), advised: false }));

  async function tell() {
    const list = document.getElementById("told-list");
    const treatment = pattern()?.dataset.treatment;
    const known = treatment && alone ? await phoneDocument.of(treatment) : null;
    const rules = known && (await limitsKnown.rulesOf(known.sheet));
    if (!rules) return;
    const judged = limitsAndMusts.judge(rules, known.document, language());
    const before = limitsAndMusts.judge(rules, known.sheet.document, language());
    clear();
    limitsKnown.say(rules, known.document);
    const mended = before.filter((each) => !judged.some((one) => saysTheSame(one, each)));
    hideOutdated(mended, shelf.since(treatment, known.sheet.revision));
    const told = [...toMend(known), ...saidOnce(judged)];
    if (list) sayInList(list, told);
    else sayBesideFields(told, known);
  }

  function tellSoon() {
    clearTimeout(timer);
    if (alone) timer = setTimeout(tell, QUIET_MS);
  }

  document.addEventListener("htmx:afterRequest", (event) => {
    if (event.detail.requestConfig?.verb !== "post") return;
    const status = event.detail.xhr?.status;
    alone = !event.detail.successful && (!status || status >= 500);
    if (event.detail.successful) clear();
    tellSoon();
  });
  for (const kind of ["change", "draft:typed", "draft:gone", "draft:back"]) document.addEventListener(kind, tellSoon);
  document.addEventListener("DOMContentLoaded", tellSoon);
})();
