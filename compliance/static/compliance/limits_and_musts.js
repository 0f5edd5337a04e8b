/* What this phone can tell of a treatment by itself, from the sheet that came with it: limits that are broken and
   members that are missing. What it can't tell it leaves to the server, and says nothing. */
window.limitsAndMusts = (() => {
  "use strict";
  const SCHEMA = "phone-sheet/1";
  const { Left } = treatmentFacts;

  function isTheSame(one, other) {
    if (one === null || typeof one !== "object") return one === other;
    if (other === null || typeof other !== "object") return false;
    const names = [...Object.keys(one), ...Object.keys(other)];
    return names.every((name) => isTheSame(one[name] ?? null, other[name] ?? null));
  }

  /* A label's limit binds the line that it came with, as long as that states the same product and label. */
  function binds({ only }, subject, { products }) {
    if (!only) return true;
    const stated = (name) => isTheSame(products[only][name] ?? null, subject.thing.value[name] ?? null);
    return subject.path === only && ["name", "registration_number", "kind", "label"].every(stated);
  }

  function judgeRule(rule, known, sheet, language) {
    const all = subjects.of(rule.judges, known);
    if (!all.length) return rule.asks ? mustJudge.judgeNothing(rule, known, sheet, language) : [];
    const bound = all.filter((subject) => binds(rule, subject, sheet) && subjects.applies(rule, known, subject.roots));
    const judgeOne = rule.asks ? mustJudge.judge : limitJudge.judge;
    return bound.flatMap((subject) => judgeOne(rule, subject, known, sheet, language));
  }

  function orLeft(judging) {
    try {
      return judging();
    } catch (error) {
      if (error instanceof Left) return [];
      throw error;
    }
  }

  /* [{ rule, about, path, state, words, level, cite, doubt }]: `not_met` for a limit, `missing` for a must. */
  function judge(sheet, document, language) {
    const known = treatmentFacts.of(document);
    if (sheet.schema !== SCHEMA || known.day() !== sheet.day) return [];
    return [...sheet.limits, ...sheet.musts].flatMap((rule) => orLeft(() => judgeRule(rule, known, sheet, language)));
  }

  return { judge };
})();
