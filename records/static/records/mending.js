/* What has to be mended before a record can be signed on this device: what can't be read here, and what the service
   would refuse in the document as a whole (`records/document/references.py` says the same of it). */
window.mending = (() => {
  "use strict";
  const SPANS = ["timing", "timing.pauses[]", "mixes[].surfaces[]"];
  const UNIQUE = ["surfaces", "people"];
  const REFERENCES = [
    ["people[].supervised_by", "people"],
    ["weather.readings[].by", "people"],
    ["protection[].by", "people"],
    ["protection[].features[]", "site.features"],
    ["mixes[].equipment", "equipment"],
    ["mixes[].surfaces[].surface", "surfaces"],
    ["mixes[].left_over.surface", "surfaces"],
  ];
  const HINTS = { number: "number", quantity: "number", amounts: "number", moment: "moment" };
  const words = () => document.getElementById("mending-words").dataset;

  /* The values at a pattern such as `mixes[].products[].lot`, each with its path. */
  function valuesAt(value, pattern, path = "") {
    if (value === undefined || value === null) return [];
    if (!pattern) return [[path, value]];
    const [, name, many, rest] = pattern.match(/^([a-z_]+)(\[\])?\.?(.*)$/);
    const there = path ? `${path}.${name}` : name;
    if (!many) return valuesAt(value[name], rest, there);
    return (value[name] ?? []).flatMap((each, at) => valuesAt(each, rest, `${there}[${at}]`));
  }

  const backwards = (made) =>
    SPANS.flatMap((span) => valuesAt(made, span))
      .filter(([, { started_at: start, finished_at: finish }]) => start && finish && Date.parse(finish) < Date.parse(start))
      .map(([path]) => ({ path: `${path}.finished_at`, kind: "backwards" }));

  function taken(made) {
    return UNIQUE.flatMap((list) => {
      const names = valuesAt(made, `${list}[].name`);
      return names
        .filter(([, name], at) => names.findIndex(([, other]) => other === name) < at)
        .map(([path, name]) => ({ path, kind: "taken", name }));
    });
  }

  function dangling(made) {
    return REFERENCES.flatMap(([pattern, list]) => {
      const there = valuesAt(made, `${list}[]`).flatMap(([, each]) => [each.name, each.id]);
      const named = there.length ? valuesAt(made, pattern) : [];
      return named.filter(([, name]) => !there.includes(name)).map(([path, name]) => ({ path, kind: "gone", name }));
    });
  }

  /* [{ path, words }]: what is refused in the document, in words. */
  function faultsOf(made) {
    return [...backwards(made), ...taken(made), ...dangling(made)].map(({ path, kind, name = "" }) => ({
      path,
      words: words()[kind].replace("NAME", () => name),
    }));
  }

  const covers = (entry, path) => path === entry.control.path || path.startsWith(`${entry.control.path}[`);

  /* [{ words, entry }] of all that has to be mended; `entry` is where it was typed, if that was on this device. */
  function of({ sheet, document: made, entries, unreadable }) {
    const unread = [sheet.unread || []].flat().filter((path) => !entries.some(({ control }) => control.path === path));
    const last = (path) => entries.findLast((entry) => covers(entry, placing.byIds(made, path)));
    const typedAt = (path) => last(path) ?? last(path.replace("finished_at", "started_at"));
    return [
      ...unreadable.map((entry) => ({ words: words()[HINTS[entry.control.reads] ?? "other"], entry })),
      ...faultsOf(made).map(({ path, words: said }) => ({ words: said, entry: typedAt(path) })),
      ...unread.map(() => ({ words: words().unread })),
    ];
  }

  function show(list, all) {
    list.replaceChildren(
      ...all.map(({ words: said, entry }) => {
        const row = document.createElement("li");
        const link = Object.assign(document.createElement("a"), { href: entry ? `${entry.action}#${entry.field}` : "" });
        link.textContent = entry ? `${entry.section}, ${entry.asks}: “${entry.text}”` : "";
        row.append(...(entry ? [link, " "] : []), said);
        return row;
      }),
    );
  }

  return { of, faultsOf, show };
})();
