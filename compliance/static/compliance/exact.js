/* Amounts and times as they were entered, compared exactly: whole numbers and fractions of them, never floats. */
window.exact = (() => {
  "use strict";
  const VALUE = /^(-?(?:0|[1-9][0-9]{0,11}))(?:\.([0-9]{1,9}))?$/;
  const TIME = /^([0-9]{4})-([0-9]{2})-([0-9]{2})[Tt]([0-9]{2}):([0-9]{2}):([0-9]{2})(?:\.([0-9]+))?(?:([Zz])|([+-])([01][0-9]|2[0-3]):([0-5][0-9]))$/;
  const SECOND = 1_000_000n; // in microseconds
  const MOST_DECIMALS = 9;
  const MOST_DIGITS = 21;
  const DAY_MS = 86_400_000;

  const fraction = (text) => text.split("/").map(BigInt);

  /* The value in the base unit of its dimension, as [numerator, denominator]; null for what is no quantity. */
  function base({ value, unit }, units) {
    const match = VALUE.exec(value);
    if (!match || !Object.hasOwn(units, unit)) return null;
    const [, whole, decimals = ""] = match;
    const [factor, below] = fraction(units[unit].factor);
    const [offset, under] = fraction(units[unit].offset);
    const [above, scale] = [BigInt(whole + decimals) * factor, 10n ** BigInt(decimals.length) * below];
    return [above * under + offset * scale, scale * under];
  }

  /* Less than 0, 0 or more than 0, as the left is less than, equal to or more than the right. */
  function order([above, below], [over, under]) {
    const difference = above * under - over * below;
    return Number(difference > 0n) - Number(difference < 0n);
  }

  /* The moment of an RFC 3339 text in microseconds; null for what is none. A leap second is the second after it. */
  function time(text) {
    const match = TIME.exec(text);
    if (!match) return null;
    const [year, month, day, hour, minute, second] = match.slice(1, 7).map(Number);
    const leap = second === 60;
    const at = new Date(0);
    at.setUTCFullYear(year, month - 1, day);
    const isDay = at.getUTCMonth() === month - 1 && at.getUTCDate() === day;
    if (!isDay || hour > 23 || minute > 59 || second > 60) return null;
    at.setUTCHours(hour, minute, leap ? 59 : second);
    const offset = match[8] ? 0 : (match[9] === "-" ? -1 : 1) * (Number(match[10]) * 60 + Number(match[11]));
    const utc = at.getTime() - offset * 60_000;
    if (leap && (((utc % DAY_MS) + DAY_MS) % DAY_MS) / 60_000 < 24 * 60 - 1) return null;
    const parts = BigInt((match[7] ?? "0").slice(0, 6).padEnd(6, "0"));
    return BigInt(utc) * 1000n + parts + (leap ? SECOND : 0n);
  }

  /* The day of a moment in a time zone, without one in its own offset; null for what is no moment. */
  function day(text, zone) {
    const at = time(text);
    if (at === null) return null;
    if (!zone) return text.slice(0, 10);
    try {
      const form = new Intl.DateTimeFormat("sv-SE", { timeZone: zone, year: "numeric", month: "2-digit", day: "2-digit" });
      return form.format(Number(at / 1000n));
    } catch {
      return null;
    }
  }

  /* A length of time in hours, minutes and whole seconds, the empty ones left out. */
  function saidTime(microseconds) {
    const seconds = microseconds / SECOND;
    const parts = [[seconds / 3600n, "h"], [(seconds / 60n) % 60n, "min"], [seconds % 60n, "s"]];
    return parts.filter(([count]) => count).map(([count, unit]) => `${count} ${unit}`).join(" ") || "0 min";
  }

  const digitsOf = (number) => number.toString().length;

  /* A fraction in digits: rounded half up to so many that count, with at most nine decimals and no zeros at the end. */
  function plain([above, below], digits) {
    let leading = digitsOf(above) - digitsOf(below);
    if (above * 10n ** BigInt(Math.max(-leading, 0)) < below * 10n ** BigInt(Math.max(leading, 0))) leading -= 1;
    const places = Math.min(digits - 1 - leading, MOST_DECIMALS);
    const [over, under] = [above * 10n ** BigInt(Math.max(places, 0)), below * 10n ** BigInt(Math.max(-places, 0))];
    const rounded = (2n * over + under) / (2n * under);
    if (places <= 0) return `${rounded * 10n ** BigInt(-places)}`;
    const scale = 10n ** BigInt(places);
    const decimals = (rounded % scale).toString().padStart(places, "0").replace(/0+$/, "");
    return decimals ? `${rounded / scale}.${decimals}` : `${rounded / scale}`;
  }

  /* A computed size in a unit, in as many digits as it takes not to look like the bound that it is not. */
  function toldApart(size, unit, bound, units) {
    const [factor, below] = fraction(units[unit].factor);
    const value = [size[0] * below, size[1] * factor];
    let digits = 6;
    if (!base({ value: plain(value, digits), unit }, units)) throw new treatmentFacts.Left("too large to be written");
    const looksAlike = () => order(base({ value: plain(value, digits), unit }, units), bound) === 0;
    while (digits < MOST_DIGITS && looksAlike()) digits += 1;
    return plain(value, digits);
  }

  return { toldApart, base, order, time, day, saidTime, SECOND };
})();
