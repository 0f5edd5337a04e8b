/* By which limits this device judges a treatment: those of its sheet, and of the labels of the rows that it keeps.
   Where they are another day's, or a label is not among them, it says so beside the limits. */
window.limitsKnown = (() => {
  "use strict";
  const ROWS = "/choices/";

  /* The rules of a sheet with the labels of what may be chosen here. */
  async function rulesOf({ rules }) {
    const kept = rules && (await window.caches?.match(ROWS));
    const { limits = [] } = kept ? await kept.json() : {};
    return rules && { ...rules, labels: [...(rules.labels ?? []), ...limits] };
  }

  const written = (day) =>
    new Date(`${day}T12:00:00Z`).toLocaleDateString(document.documentElement.lang, { dateStyle: "long", timeZone: "UTC" });

  function sentences({ nothing, day, otherDay, labels }, words) {
    if (nothing) return [words.nothing];
    const ofDay = day ? words.otherDay.replace("DAY", written(day)) : words.noDay;
    return [...(otherDay ? [ofDay] : []), ...labels.map((name) => words.label.replace("NAME", () => name))];
  }

  /* In each place of the page that is for it. */
  function say(rules, made) {
    for (const place of document.querySelectorAll(".limits-known")) {
      const said = sentences(limitsAndMusts.untold(rules, made), place.dataset).map((words) => {
        const line = document.createElement("p");
        line.textContent = words;
        return line;
      });
      place.replaceChildren(...said);
      place.hidden = !said.length;
    }
  }

  function clear() {
    for (const place of document.querySelectorAll(".limits-known")) place.hidden = true;
  }

  return { rulesOf, say, clear };
})();
