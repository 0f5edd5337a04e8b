/* How much finished mix went on an area, as the service works it out: on each surface that has an amount of its own,
   else on all surfaces of the mix together. */
window.coverage = (() => {
  "use strict";
  const { member, branches, itemsOf } = treatmentFacts;

  function quantityOf(owner, name, units) {
    const { value } = member(owner, name);
    const size = value === null ? null : exact.base(value, units);
    if (value !== null && !size) throw new treatmentFacts.Left("no such quantity");
    return size && { size, dimension: units[value.unit].dimension };
  }

  function surfaceNamed(reference, known) {
    const surfaces = branches(itemsOf(known.look("surfaces")).items);
    return reference !== null && surfaces.find((one) => [member(one, "id").value, member(one, "name").value].includes(reference));
  }

  const areaOf = (surface, units) => (surface ? (quantityOf(surface, "treated_area", units)?.size ?? null) : null);

  /* The areas of the mix's surfaces together, each surface once; null where one is not known. */
  function totalArea(several, known, units) {
    const surfaces = new Set(several.map((on) => surfaceNamed(member(on, "surface").value, known)?.path ?? null));
    const areas = [...surfaces].map((path) => path && areaOf(known.look("surfaces").items.find((one) => one.path === path), units));
    if (!areas.length || areas.some((area) => !area)) return null;
    return areas.reduce(([above, below], [over, under]) => [above * under + over * below, below * under]);
  }

  /* In litres or grams on a square metre; null where an area is missing, or where weight and volume meet. */
  function perArea(amount, area, unit, units) {
    const weighs = amount.dimension === "mass";
    if (!area || (units[unit].dimension === "mass_per_area") !== weighs) return null;
    const [above, below] = amount.size;
    return [above * (weighs ? 1000n : 1n) * area[1], below * area[0]];
  }

  function of({ mix }, known, unit, units) {
    const several = branches(itemsOf(member(mix, "surfaces")).items);
    const own = several.map((on) => quantityOf(on, "applied", units));
    if (own.some((amount) => amount)) {
      return several.map((on, at) => {
        const area = own[at] && areaOf(surfaceNamed(member(on, "surface").value, known), units);
        return { size: own[at] && perArea(own[at], area, unit, units), about: [`${on.path}.applied`] };
      });
    }
    const applied = quantityOf(mix, "applied", units);
    return [{ size: applied && perArea(applied, totalArea(several, known, units), unit, units), about: [`${mix.path}.applied`] }];
  }

  return { of };
})();
