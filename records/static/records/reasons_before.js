/* Reasons for what was open when a page was kept, and which this device does not judge by itself. */
window.reasonsBefore = (() => {
  "use strict";
  const place = () => document.querySelector("#seal .reasons-before");
  const namedIn = (field) => JSON.parse(field.querySelector("[name=finding]").value);

  /* The boxes that the service drew for them, to be filled in or left empty. */
  function offer({ rules }) {
    const ofLabels = (rules?.labels ?? []).flatMap(({ limits }) => limits);
    const judged = new Set([...(rules?.limits ?? []), ...ofLabels, ...(rules?.musts ?? [])].map(({ rule }) => rule));
    const fields = [...document.querySelectorAll("form[data-signs] .field:has([name=finding])")];
    const left = fields.filter((field) => namedIn(field).some(([rule]) => !judged.has(rule)));
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
