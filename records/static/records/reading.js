/* What was typed into a field, as the treatment document holds it: what the service reads of the same entry.
   What can be read in two ways, or not at all, is not read here: it waits for the service to ask. */
window.reading = (() => {
  "use strict";

  class Unreadable extends Error {}

  const AMBIGUOUS = /^([1-9][0-9]{0,2}),([0-9]{3})$/;
  const AMBIGUOUS_WITH_COMMAS = /^([1-9][0-9]{0,2})\.([0-9]{3})$/;
  const GROUPED = [
    [/^[0-9]{1,3}(?: [0-9]{3})+(?:[.,][0-9]+)?$/, " "],
    [/^(?:[0-9]{1,3}(?:,[0-9]{3})+\.[0-9]+|[0-9]{1,3}(?:,[0-9]{3}){2,})$/, ","],
    [/^(?:[0-9]{1,3}(?:\.[0-9]{3})+,[0-9]+|[0-9]{1,3}(?:\.[0-9]{3}){2,})$/, "."],
  ];
  const KEPT = /^-?(0|[1-9][0-9]{0,11})(\.[0-9]{1,9})?$/;
  const usesCommas = () => document.documentElement.lang.startsWith("es");

  function digitsOf(text) {
    if (AMBIGUOUS.test(text) || (usesCommas() && AMBIGUOUS_WITH_COMMAS.test(text))) throw new Unreadable(text);
    const group = GROUPED.find(([pattern]) => pattern.test(text));
    const single = (group ? text.replaceAll(group[1], "") : text).match(/^([0-9]*)(?:[.,]([0-9]+))?$/);
    if (!single || !text) throw new Unreadable(text);
    const whole = single[1].replace(/^0+/, "") || "0";
    return single[2] ? `${whole}.${single[2]}` : whole;
  }

  function quantity([number, unit], { belowZero, aboveZero }) {
    const text = number.replace(/[\s\u00a0\u2007\u2009\u202f]+/g, " ").trim().replace("\u2212", "-");
    if (!text) return null;
    const [, sign, digits] = text.match(/^([-+]?)(.*)$/);
    const value = (sign === "-" ? "-" : "") + digitsOf(digits);
    const isZero = /^-?0(\.0+)?$/.test(value);
    if (!KEPT.test(value) || (sign === "-" && !belowZero) || (isZero && aboveZero)) throw new Unreadable(number);
    return { value, unit };
  }

  function number([text]) {
    const digits = text.trim().replaceAll(",", ".");
    if (digits && !KEPT.test(digits)) throw new Unreadable(text);
    return digits || null;
  }

  /* How far the clocks of a zone are from UTC at an instant, in ms. */
  function offsetAt(instant, zone) {
    const parts = new Intl.DateTimeFormat("en-US", {
      timeZone: zone, hourCycle: "h23", year: "numeric", month: "numeric", day: "numeric",
      hour: "numeric", minute: "numeric", second: "numeric",
    }).formatToParts(new Date(instant));
    const at = Object.fromEntries(parts.map(({ type, value }) => [type, Number(value)]));
    return Date.UTC(at.year, at.month - 1, at.day, at.hour, at.minute, at.second) - Math.floor(instant / 1000) * 1000;
  }

  const two = (count) => String(count).padStart(2, "0");

  function writtenAt(instant, offset) {
    const minutes = Math.abs(offset) / 60000;
    const local = new Date(instant + offset).toISOString().slice(0, 19);
    return `${local}${offset < 0 ? "-" : "+"}${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
  }

  /* An instant as the clocks of the zone show it, with their offset, to the second (RFC 3339). */
  function momentIn(zone, instant) {
    return writtenAt(instant, offsetAt(instant, zone));
  }

  const offsetIn = (written) => written.slice(-6);

  /* A time that the clocks show twice is read where it is said which is meant; one that they leap over is told by the
     clock before. */
  function moment([day, time, said], { zone, day: offered }) {
    if (!time.trim() && ["", offered].includes(day.trim())) return null;
    const written = `${day.trim()}T${time.trim()}`;
    if (!/^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}(:[0-9]{2})?$/.test(written)) throw new Unreadable(written);
    const local = Date.parse(`${written}${time.trim().length === 5 ? ":00" : ""}Z`);
    if (Number.isNaN(local) || !new Date(local).toISOString().startsWith(day.trim())) throw new Unreadable(written);
    const before = offsetAt(local - 86400000, zone);
    const after = offsetAt(local + 86400000, zone);
    const holds = (offset) => offsetAt(local - offset, zone) === offset;
    if (before > after && holds(before) && holds(after)) {
      const meant = [before, after].find((each) => offsetIn(writtenAt(local - each, each)) === said);
      if (meant === undefined) throw new Unreadable(written);
      return writtenAt(local - meant, meant);
    }
    const offset = holds(before) || !holds(after) ? before : after;
    return writtenAt(local - offset, offset);
  }

  function flag([word]) {
    if (!["true", "false", ""].includes(word)) throw new Unreadable(word);
    return word ? word === "true" : null;
  }

  /* One amount for each key; `there` are the items that the list has now. */
  function amounts(typed, control, there) {
    const items = control.keys.map((key, at) => {
      const amount = quantity(typed.slice(2 * at, 2 * at + 2), control);
      return amount && { ...there?.find((item) => item[control.key] === key), [control.key]: key, [control.amount]: amount };
    });
    const given = items.filter(Boolean);
    return given.length ? given : null;
  }

  const readers = {
    text: ([text]) => text.trim() || null,
    lines: ([text]) => text.replace(/\r\n?/g, "\n").trim() || null,
    words: (typed) => (typed.length ? [...typed] : null),
    none: ([ticked]) => (ticked ? [] : null),
    degrees: ([value]) => (value ? { value, unit: "degree" } : null),
    number,
    quantity,
    moment,
    flag,
    amounts,
  };

  /* The JSON value, null where nothing was entered. Throws Unreadable. */
  function read(control, typed, there) {
    return readers[control.reads](typed, control, there);
  }

  return { read, momentIn, offsetIn, writtenAt, Unreadable };
})();
