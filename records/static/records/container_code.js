/* The lot number in the text of a code on a container: the part behind (10) of a GS1 element string, else all of it.
   GS1 General Specifications: AI 10 is the batch or lot number, of at most 20 signs; the prefixes whose element strings
   have a length of their own need no separator behind them. The lengths are from memory. */
window.containerCode = (() => {
  "use strict";
  const SEPARATOR = "\u001d";
  const SYMBOLOGY = /^\](C1|d2|Q3|e0)/;
  /* By the first two digits of the identifier, how long it is with its data. */
  const LENGTHS = {
    "00": 20, "01": 16, "02": 16, "03": 16, "04": 18, 11: 8, 12: 8, 13: 8, 14: 8, 15: 8, 16: 8, 17: 8, 18: 8, 19: 8,
    20: 4, 31: 10, 32: 10, 33: 10, 34: 10, 35: 10, 36: 10, 41: 16,
  };

  /* Whether the last of the digits of an article's number fits the others. */
  function fits(number) {
    const sum = [...number].reduce((total, digit, at) => total + Number(digit) * (at % 2 ? 1 : 3), 0);
    return sum % 10 === 0;
  }

  const isElementString = (text) => {
    const article = text.match(/^0[12]([0-9]{14})/);
    return SYMBOLOGY.test(text) || text.startsWith(SEPARATOR) || Boolean(article && fits(article[1]));
  };

  function lotInElements(text) {
    let rest = text;
    while (rest) {
      const end = rest.includes(SEPARATOR) ? rest.indexOf(SEPARATOR) : rest.length;
      if (rest.startsWith("10")) return rest.slice(2, end);
      rest = rest.slice(LENGTHS[rest.slice(0, 2)] ?? end).replace(SEPARATOR, (sign, at) => (at ? sign : ""));
    }
    return "";
  }

  function lotIn(text) {
    const inBrackets = text.match(/^\([0-9]{2,4}\)/) && text.match(/\(10\)([^()]+)/);
    if (inBrackets) return inBrackets[1].trim();
    if (!isElementString(text)) return text.trim();
    return lotInElements(text.replace(SYMBOLOGY, "").replace(/^\u001d/, "")) || text.trim();
  }

  return { lotIn };
})();
