/* Whether a rule applies: the closed form of conditions, true, false or unknown (null), with what decided it. */
window.conditions = (() => {
  "use strict";
  const PLAIN = /^[\x20-\x7e]*$/;

  function combine(verdicts, decidedBy) {
    const decided = verdicts.find(({ truth }) => truth === decidedBy);
    if (decided) return decided;
    const unknown = verdicts.filter(({ truth }) => truth === null);
    const about = (unknown.length ? unknown : verdicts).flatMap((verdict) => verdict.about);
    return { truth: unknown.length ? null : !decidedBy, about };
  }

  function several(parts, decidedBy, facts, scope) {
    const verdicts = [];
    for (const part of parts) {
      const verdict = judge(part, facts, scope);
      if (verdict.truth === decidedBy) return verdict;
      verdicts.push(verdict);
    }
    return combine(verdicts, decidedBy);
  }

  function overItems(path, has, every, facts, scope) {
    const items = treatmentFacts.itemsOf(facts.find(path, scope));
    const verdicts = items.items.map((item) => judge(has, facts, { ...scope, item }));
    if (items.lacks.length) verdicts.push({ truth: null, about: items.about });
    return combine(verdicts, !every);
  }

  function isOneOf(value, { is, folded }) {
    if (is) return is.includes(value);
    if (!PLAIN.test(value)) throw new treatmentFacts.Left("text that two programs may fold differently");
    return folded.includes(value.trim().split(/\s+/u).join(" ").toLowerCase());
  }

  function fact(condition, facts, scope) {
    const found = facts.find(condition.fact, scope);
    const about = treatmentFacts.aboutOf(found);
    if ("present" in condition) return { truth: treatmentFacts.isPresent(found) === condition.present, about };
    if (found.kind !== "leaf" || found.value === null) return { truth: null, about };
    const foreign = condition.among && !condition.among.includes(found.value);
    return { truth: foreign ? null : isOneOf(found.value, condition), about };
  }

  function judge(condition, facts, scope) {
    if ("truth" in condition) return { truth: condition.truth, about: [] };
    if (condition.all) return several(condition.all, false, facts, scope);
    if (condition.any) return several(condition.any, true, facts, scope);
    if (condition.some) return overItems(condition.some, condition.has, false, facts, scope);
    if (condition.every) return overItems(condition.every, condition.has, true, facts, scope);
    if (!condition.not) return fact(condition, facts, scope);
    const { truth, about } = judge(condition.not, facts, scope);
    return { truth: truth === null ? null : !truth, about };
  }

  return { judge };
})();
