/* What this phone can tell of a treatment by itself, from the sheet that came with it: limits that are broken and
   members that are missing. What it can't tell it leaves to the server, and says nothing. */
window.limitsAndMusts = (() => {
  "use strict";
  const SCHEMA = "phone-sheet/2";
  const { Left } = treatmentFacts;

  function isTheSame(one, other) {
    if (one === null || typeof one !== "object") return one === other;
    if (other === null || typeof other !== "object") return false;
    const names = [...Object.keys(one), ...Object.keys(other)];
    return names.every((name) => isTheSame(one[name] ?? null, other[name] ?? null));
  }

  const isStated = (product, line) =>
    ["name", "registration_number", "kind", "label"].every((name) => isTheSame(product[name] ?? null, line[name] ?? null));

  /* What is known of the label of a line: of one that states the same product and label. */
  const labelOf = ({ labels }, line) => labels.find(({ product }) => isStated(product, line));

  function orLeft(judging) {
    try {
      return judging();
    } catch (error) {
      if (error instanceof Left) return [];
      throw error;
    }
  }

  function judgeRule(rule, known, sheet, language) {
    const all = subjects.of(rule.judges, known);
    if (!all.length) return rule.asks ? mustJudge.judgeNothing(rule, known, sheet, language) : [];
    const bound = all.filter((subject) => subjects.applies(rule, known, subject.roots));
    const judgeOne = rule.asks ? mustJudge.judge : limitJudge.judge;
    return bound.flatMap((subject) => judgeOne(rule, subject, known, sheet, language));
  }

  function judgeLabel(line, known, sheet, language) {
    return (labelOf(sheet, line.thing.value)?.limits ?? []).flatMap((limit) =>
      orLeft(() => (subjects.applies(limit, known, line.roots) ? limitJudge.judge(limit, line, known, sheet, language) : [])),
    );
  }

  /* [{ rule, about, path, state, words, level, cite, doubt }]: `not_met` for a limit, `missing` for a must. Also on
     another day than the sheet's: a limit that may be another by then is better told than none. */
  function judge(sheet, document, language) {
    if (sheet.schema !== SCHEMA) return [];
    const known = treatmentFacts.of(document);
    const judgeRules = (rules) => rules.flatMap((rule) => orLeft(() => judgeRule(rule, known, sheet, language)));
    const ofLabels = subjects.of("products", known).flatMap((line) => judgeLabel(line, known, sheet, language));
    return [...judgeRules(sheet.limits), ...ofLabels, ...judgeRules(sheet.musts)];
  }

  /* What `judge` does not tell: whether it has no rules at all; those of another `day` (null: of none); and the
     products whose labels it does not know. */
  function untold(sheet, document) {
    if (sheet.schema !== SCHEMA) return { nothing: true, day: sheet.day, otherDay: false, labels: [] };
    const known = treatmentFacts.of(document);
    const lines = known.stoodDown ? [] : subjects.of("products", known).map(({ thing }) => thing.value);
    const unknown = lines.filter((line) => !labelOf(sheet, line));
    const names = unknown.map((line) => line.name ?? line.registration_number ?? "?");
    return { nothing: false, day: sheet.day, otherDay: known.day() !== sheet.day, labels: [...new Set(names)] };
  }

  return { judge, untold };
})();
