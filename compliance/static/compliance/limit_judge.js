/* Whether what was read and entered keeps a limit; compared exactly, in whatever units it was entered. */
window.limitJudge = (() => {
  "use strict";
  const MOST = 999_999n; // beyond six digits the server rounds what it shows
  const facts = () => treatmentFacts;

  function quantityIn(item, name, units, dimension) {
    const leaf = facts().member(item, name);
    if (leaf.value === null) return { size: null };
    const size = exact.base(leaf.value, units);
    if (!size || units[leaf.value.unit].dimension !== dimension) throw new (facts().Left)("no such quantity");
    return { size, about: leaf.about, quantity: leaf.value };
  }

  function measuredOn(each, name, limit, units) {
    const dimension = units[limit.unit].dimension;
    const unknown = each.lacks.length ? [{ size: null }] : [];
    return [...unknown, ...facts().branches(each.items).map((item) => quantityIn(item, name, units, dimension))];
  }

  function measured(limit, subject, known, units) {
    const { reading, from, to, each, member, strengthBy, perArea } = limit.measured;
    if ((perArea || strengthBy) && subject.thing && subjects.hasTwin(subject, known)) {
      throw new (facts().Left)("a sum of several lines");
    }
    if (perArea) return coverage.of(subject.roots, known, limit.unit, units);
    if (strengthBy) {
      const size = strength.of(subject.roots, limit.unit, units);
      return [{ size, about: [`${subject.path}.${strengthBy}`] }];
    }
    if (reading) return measuredOn(known.readingsSoFar(), reading, limit, units);
    if (each) return measuredOn(facts().itemsOf(known.look(each)), member, limit, units);
    const [late, early] = [facts().timeAt(known.look(to)), facts().timeAt(known.look(from))];
    if (late === null || early === null) return [{ size: null }];
    const passed = late > early ? late - early : 0n;
    return [{ size: [passed, 60n * exact.SECOND], about: [to, from], passed }];
  }

  const withUnit = (value, unit, units, language) => `${value} ${units[unit][value === "1" ? "one" : "label"][language]}`;

  function said({ size, quantity, passed }, limit, bound, units, language) {
    if (quantity) return withUnit(quantity.value, quantity.unit, units, language);
    if (passed === undefined) return withUnit(exact.toldApart(size, limit.unit, bound, units), limit.unit, units, language);
    const [whole, rest] = [passed / unitOfTime(limit), passed % unitOfTime(limit)];
    if (rest) return exact.saidTime(passed);
    if (whole > MOST) throw new (facts().Left)("too long");
    return withUnit(`${whole}`, limit.unit, units, language);
  }

  const unitOfTime = (limit) => (limit.unit === "hour" ? 3600n : 60n) * exact.SECOND;

  /* The worst of all that is known; while it keeps the limit, what is unknown is for the server. */
  function judge(limit, subject, known, { units }, language) {
    const all = measured(limit, subject, known, units);
    const looked = limit.last_only ? [...all.slice(0, -1).filter(({ size }) => !size), ...all.slice(-1)] : all;
    const sizes = looked.filter(({ size }) => size).sort((one, other) => exact.order(one.size, other.size));
    for (const [bound, worst, sign] of [[limit.max, sizes.at(-1), 1], [limit.min, sizes[0], -1]]) {
      const edge = bound && exact.base(bound, units);
      if (!bound || !worst || exact.order(worst.size, edge) !== sign) continue;
      const blanks = { observed: said(worst, limit, edge, units, language) };
      return [told.found(limit, worst.about, "not_met", told.sentence(bound.words[language], blanks, limit, subject))];
    }
    return [];
  }

  return { judge };
})();
