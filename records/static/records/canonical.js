/* JSON bytes that come out the same everywhere: the JSON Canonicalization Scheme, RFC 8785. */
window.canonical = (() => {
  "use strict";
  const LONE_SURROGATE = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/;

  function writtenText(text) {
    if (LONE_SURROGATE.test(text)) throw new RangeError("half a character has no canonical form");
    return JSON.stringify(text);
  }

  /* Numbers with meaning are text: only whole ones that every machine holds exactly are taken. */
  function written(value) {
    if (value === null || typeof value === "boolean") return String(value);
    if (typeof value === "string") return writtenText(value);
    if (typeof value === "number") {
      if (!Number.isSafeInteger(value)) throw new RangeError(`${value} is no number that is the same on all machines`);
      return String(value);
    }
    if (Array.isArray(value)) return `[${value.map(written).join(",")}]`;
    if (typeof value !== "object") throw new TypeError(`${typeof value} is no JSON value`);
    const members = Object.keys(value).sort();
    return `{${members.map((name) => `${writtenText(name)}:${written(value[name])}`).join(",")}}`;
  }

  const hex = (bytes) => [...new Uint8Array(bytes)].map((byte) => byte.toString(16).padStart(2, "0")).join("");

  const bytes = (value) => new TextEncoder().encode(written(value));

  const digest = async (value) => `sha256:${hex(await crypto.subtle.digest("SHA-256", bytes(value)))}`;

  return { written, bytes, digest };
})();
