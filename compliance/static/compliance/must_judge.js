/* Whether the members that a record must state are there; three-valued as on the server. */
window.mustJudge = (() => {
  "use strict";
  const facts = () => treatmentFacts;
  const once = (texts) => [...new Set(texts)];
  const withoutIndices = (path) => path.replace(/\[\d+\]/g, "");

  const lacks = (node) => (node.kind === "leaf" && node.lacks.length ? node.lacks : facts().aboutOf(node));
  const isOfAnItem = ({ about }) => about.some((path) => path === "item" || path.startsWith("item."));

  function gapOnce(ask, known, scope) {
    const absent = ask.paths.map((path) => known.find(path, scope)).filter((node) => !facts().isPresent(node));
    if (!absent.length || (ask.any && absent.length < ask.paths.length)) return null;
    const wanted = ask.only ? conditions.judge(ask.only, known, scope).truth : true;
    if (wanted === false || (ask.unless && conditions.judge(ask.unless, known, scope).truth === true)) return null;
    return wanted === null ? { unsure: true } : { paths: (ask.any ? absent.slice(0, 1) : absent).flatMap(lacks) };
  }

  /* Whether a list without items is let be, for a reason that does not lie in an item; null: unknown. */
  function asksNothing(ask, known, scope) {
    const reasons = [[ask.unless, true], [ask.only, false]].filter(([condition]) => condition);
    const verdicts = reasons
      .map(([condition, reason]) => [conditions.judge(condition, known, scope), reason])
      .filter(([verdict]) => !isOfAnItem(verdict));
    if (verdicts.some(([{ truth }, reason]) => truth === reason)) return true;
    return verdicts.some(([{ truth }, reason]) => truth === null && reason === false) ? null : false;
  }

  /* The items that are asked; one that may be among them counts where it states what is asked for. */
  function among(items, ask, known, scope) {
    if (!ask.where) return items;
    const [chosen, lacks] = [[], [...items.lacks]];
    for (const item of items.items) {
      const within = { ...scope, item };
      const { truth } = conditions.judge(ask.where, known, within);
      if (truth) chosen.push(item);
      else if (truth === null && !gapOnce(ask, known, within)) lacks.push(...facts().aboutOf(item));
    }
    return { ...items, items: chosen, lacks };
  }

  function gapOf(ask, known, scope) {
    if (!ask.over) return gapOnce(ask, known, scope);
    const items = among(facts().itemsOf(known.find(ask.over, scope)), ask, known, scope);
    if (!items.items.length) {
      const nothing = asksNothing(ask, known, scope);
      if (nothing !== false) return nothing ? null : { unsure: true };
      return items.absent || !items.lacks.length ? { paths: items.about } : { unsure: true };
    }
    const gaps = items.items.map((item) => gapOnce(ask, known, { ...scope, item }));
    const there = gaps.filter((gap) => gap);
    if (!ask.every && there.length < gaps.length) return null;
    if (!ask.every && items.lacks.length) return { unsure: true };
    return there.find((gap) => !gap.unsure) ?? (items.lacks.length ? { unsure: true } : there[0] ?? null);
  }

  function missingOf(must, about, asked, subject, sheet, language) {
    const mend = sheet.mends[withoutIndices(about[0])];
    if (!mend) throw new (facts().Left)("no sentence");
    const blanks = { asked: once(asked.map(({ words }) => words[language])).join(", "), mend: mend[language] };
    return [told.found(must, about, "missing", told.sentence(must.words[language], blanks, must, subject))];
  }

  function judge(must, subject, known, sheet, language) {
    const gaps = must.asks.map((ask) => [ask, gapOf(ask, known, subject.roots)]);
    const absent = gaps.filter(([, gap]) => gap && !gap.unsure);
    const about = once(absent.flatMap(([, gap]) => gap.paths));
    return absent.length ? missingOf(must, about, absent.map(([ask]) => ask), subject, sheet, language) : [];
  }

  function judgeNothing(must, known, sheet, language) {
    const lacking = subjects.lacksOf(must.judges, known);
    if (!lacking) return [];
    const subject = subjects.unstated(must.judges, lacking);
    return subjects.applies(must, known, subject.roots) ? missingOf(must, [lacking], must.asks, subject, sheet, language) : [];
  }

  return { judge, judgeNothing };
})();
