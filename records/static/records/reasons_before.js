/* Reasons for what was open when a page was kept, and which this device does not judge by itself. */
window.reasonsBefore = (() => {
  "use strict";
  const place = () => document.querySelector("#seal .reasons-before");
  const namedIn = (field) => JSON.parse(field.querySelector("[name=finding]").value);

  /* What was not filled in when the page was kept, and is by now: the service looks at it anew. */
  function isFilledIn(about, before, made) {
    const has = (document) => (path) => placing.at(document, path) !== null;
    return about.length > 0 && !about.every(has(before)) && about.every(has(made));
  }

  /* The boxes that the service drew for them, to be filled in or left empty. */
  function offer({ sheet: { rules, document: before }, document: made }) {
    const ofLabels = (rules?.labels ?? []).flatMap(({ limits }) => limits);
    const judged = new Set([...(rules?.limits ?? []), ...ofLabels, ...(rules?.musts ?? [])].map(({ rule }) => rule));
    const fields = [...document.querySelectorAll("form[data-signs] .field:has([name=finding])")];
    const left = fields.filter((field) => namedIn(field).some(([rule, about]) => !judged.has(rule) && !isFilledIn(about, before, made)));
    place().replaceChildren(...left);
    place().parentElement.hidden = !left.length;
  }

  function given() {
    return [...place().querySelectorAll(".field")].flatMap((field) => {
      const reason = field.querySelector("textarea").value.trim();
      return reason ? namedIn(field).map(([rule, about]) => ({ rule, about, reason })) : [];
    });
  }

  return { offer, given };
})();
