/* What a rule judges: the treatment, its products, mixes, people or surfaces; and whether the rule applies to one. */
window.subjects = (() => {
  "use strict";
  const facts = () => treatmentFacts;

  /* The things of one sort, each with its path and what stands under which root of a fact path. */
  function of(judges, known) {
    const { itemsOf, branches, member } = facts();
    const listed = (path) => branches(itemsOf(known.look(path)).items);
    const mixes = () => listed("mixes");
    const lines = (mix) => branches(itemsOf(member(mix, "products")).items);
    return {
      document: () => [{ path: "", roots: {} }],
      mixes: () => mixes().map((mix) => ({ path: mix.path, roots: { mix } })),
      products: () =>
        mixes().flatMap((mix) => lines(mix).map((product) => ({ path: product.path, thing: product, roots: { product, mix } }))),
      people: () => listed("people").map((person) => ({ path: person.path, thing: person, roots: { person } })),
      surfaces: () => listed("surfaces").map((surface) => ({ path: surface.path, thing: surface, roots: { surface } })),
    }[judges]();
  }

  /* What is missing where there is nothing of the sort; nothing where there need be none. */
  function lacksOf(judges, known) {
    if (judges === "people" || judges === "surfaces") return judges;
    if (judges === "products" && of("mixes", known).length) return "mixes[0].products";
    return known.stoodDown ? null : "mixes";
  }

  function unstated(judges, path) {
    const nothing = facts().branch({}, path);
    const roots = { products: ["product", "mix"], mixes: ["mix"], people: ["person"], surfaces: ["surface"] }[judges];
    return { path: "", roots: Object.fromEntries(roots.map((root) => [root, nothing])) };
  }

  const applies = (rule, known, scope) => rule.when.every((condition) => conditions.judge(condition, known, scope).truth === true);

  const folded = (text) => (text === null ? null : text.trim().split(/\s+/u).join(" ").toLowerCase());
  const digits = (number) => (/[1-9]/u.test(number ?? "") ? number.replace(/[^0-9]+/gu, "-").replace(/^-|-$/gu, "") : null);

  /* Whether another line may state the same product: what a label allows is then a sum, and for the server. */
  function hasTwin(subject, known) {
    const { member } = facts();
    const marks = ({ thing }) => [
      digits(member(thing, "registration_number").value),
      member(thing, "id").value,
      folded(member(thing, "name").value),
    ];
    const own = marks(subject);
    const others = of("products", known).filter(({ path }) => path !== subject.path);
    return others.some((other) => marks(other).some((mark, at) => mark !== null && mark === own[at]));
  }

  return { of, lacksOf, unstated, applies, hasTwin };
})();
