/* How strong a mix is, as the service works it out: a product's amount over all that went into the mix. */
window.strength = (() => {
  "use strict";
  const { member, branches, itemsOf } = treatmentFacts;
  const THOUSAND = 1000n;

  const times = ([above, below], [over, under]) => [above * over, below * under];
  const plus = ([above, below], [over, under]) => [above * under + over * below, below * under];
  const turned = ([above, below]) => [below, above];

  function quantityOf(owner, name, units) {
    const { value } = member(owner, name);
    if (value === null) return null;
    const size = exact.base(value, units);
    if (!size) throw new treatmentFacts.Left("no such quantity");
    return { size, dimension: units[value.unit].dimension };
  }

  /* The amount as a volume or a weight, by the product's density where it is the other one; null without it. */
  function as(dimension, product, amount, units) {
    if (amount.dimension === dimension) return amount.size;
    const density = quantityOf(product, "density", units);
    if (!density?.size[0]) return null;
    return times(amount.size, dimension === "mass" ? density.size : turned(density.size));
  }

  /* All that went into the mix; null where an amount is missing, or where weight and volume do not go together. */
  function mixed(mix, units) {
    const lines = branches(itemsOf(member(mix, "products")).items).map((line) => [line, quantityOf(line, "amount", units)]);
    const diluent = member(mix, "diluent");
    const water = diluent.kind === "branch" ? quantityOf(diluent, "amount", units) : null;
    const undiluted = diluent.kind !== "branch" && ["ready-to-use", "dry"].includes(member(mix, "form").value);
    if (!lines.length || lines.some(([, amount]) => !amount) || (!water && !undiluted)) return null;
    const { dimension } = water ?? lines[0][1];
    let total = water?.size ?? [0n, 1n];
    for (const [line, amount] of lines) {
      const part = as(dimension, line, amount, units);
      if (!part && amount.dimension !== "mass") return null;
      if (part) total = plus(total, part);
    }
    return total[0] ? { size: total, dimension } : null;
  }

  /* In the base of the unit's dimension: a share in percent, or a volume or weight in a volume of mix. */
  function of({ product, mix }, unit, units) {
    const amount = quantityOf(product, "amount", units);
    const whole = amount && mixed(mix, units);
    if (!whole) return null;
    const wanted = { volume_per_volume: "volume", mass_per_volume: "mass" }[units[unit].dimension];
    if (!wanted) return amount.dimension === whole.dimension ? times(times(amount.size, [100n, 1n]), turned(whole.size)) : null;
    const part = whole.dimension === "volume" ? as(wanted, product, amount, units) : null;
    return part && times(times(part, [THOUSAND, 1n]), turned(whole.size));
  }

  return { of };
})();
