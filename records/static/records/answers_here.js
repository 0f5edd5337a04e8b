/* Where there is no connection: the answers of the page that asks for the signature, as it was kept, and with what
   was entered on this device since. */
window.answersHere = (() => {
  "use strict";
  const place = () => document.getElementById("answers-given");

  function mark() {
    return Object.assign(document.createElement("span"), { className: "since", textContent: place().dataset.since });
  }

  function say(answer, text) {
    answer.replaceChildren(`${text || place().dataset.none} `, mark());
  }

  /* A question that the kept page does not have: an item that was added, or ticks. */
  function addTo(section, { field, asks }) {
    const list = Object.assign(document.createElement("dl"), { className: "facts" });
    list.dataset.added = "yes";
    list.dataset.answer = `${field} ${asks}`;
    const row = document.createElement("div");
    row.append(Object.assign(document.createElement("dt"), { textContent: asks }), document.createElement("dd"));
    list.append(row);
    [...section.querySelectorAll(":scope > summary, :scope > [data-added]")].at(-1).after(list);
    return list;
  }

  function rowsOf(entry) {
    const names = [entry.field, `${entry.field} ${entry.asks}`];
    const there = [...place().querySelectorAll("[data-answer]")].filter((row) => names.includes(row.dataset.answer));
    if (there.length) return there;
    const section = [...place().querySelectorAll("[data-section]")].find((each) => entry.action.endsWith(`/form/${each.dataset.section}/`));
    return section ? [addTo(section, entry)] : [];
  }

  /* The form that only a connection can send is hidden: its answers stand before `box`. */
  function show(treatment, revision, box) {
    box.before(place());
    for (const entry of shelf.since(treatment, revision)) {
      for (const row of rowsOf(entry)) {
        say(row.querySelector("dd"), entry.text);
        const summary = row.closest("details").querySelector("summary");
        if (!summary.querySelector(".since")) summary.append(" ", mark());
      }
    }
  }

  return { show };
})();
