/* What is said of a rule that is not kept: the sentence of the server, filled here. */
window.told = (() => {
  "use strict";

  function sentence(parts, blanks, rule, subject) {
    const text = parts.map((part) => (typeof part === "string" ? part : blanks[part.blank])).join("").replace(/\s+/g, " ").trim();
    const [first = "", ...rest] = text;
    const said = first.toUpperCase() + rest.join("");
    const name = rule.names && subject.thing && treatmentFacts.member(subject.thing, "name").value;
    return name ? `${name}: ${said}` : said;
  }

  const found = (rule, about, state, words) => ({
    rule: rule.rule, about, path: about[0] ?? "", state, words, level: rule.level, cite: rule.cite, doubt: rule.doubt,
  });

  return { sentence, found };
})();
