/* What was typed and is not saved yet, kept on this device for the person who typed it. Each field of each page
   that it was typed on has an entry of its own, so that two pages of one treatment never overwrite each other's. */
window.shelf = (() => {
  "use strict";

  const mine = () => `typed:${document.body.dataset.person}/`;

  function read(key) {
    try {
      return { ...JSON.parse(localStorage.getItem(key)), key };
    } catch {
      return null;
    }
  }

  /* The person's entries: all, those of a treatment, or of one section of it (`treatment/section`); oldest first. */
  function entries(place) {
    try {
      const beginning = mine() + (place ? `${place}/` : "");
      const keys = Object.keys(localStorage).filter((key) => key.startsWith(beginning));
      return keys.map(read).filter((entry) => entry?.states).sort((one, other) => one.at - other.at);
    } catch {
      return [];
    }
  }

  /* Whether the device keeps it: without room the page alone still holds what was typed. */
  function put(entry) {
    try {
      onDisk.put(entry.key, entry, entry.change);
      return true;
    } catch {
      return false;
    }
  }

  /* Takes the entry off, unless another page has changed it since. */
  function drop(entry) {
    try {
      if (read(entry.key)?.change === entry.change) onDisk.drop(entry.key);
    } catch {
      /* Nothing was kept. */
    }
  }

  /* What the service has since `revision`, but the document that this device keeps may not have yet. */
  function settle(entry, revision) {
    try {
      drop(entry);
      const key = `sent:${entry.key.replace(/^typed:/, "")}`;
      if (revision) localStorage.setItem(key, JSON.stringify({ ...entry, key, revision }));
    } catch {
      /* Without storage nothing is made here. */
    }
  }

  /* Those of a treatment's entries that the service has, but a copy of this revision has not; the oldest first. */
  function sent(treatment, revision) {
    const beginning = `sent:${document.body.dataset.person}/${treatment}/`;
    const all = Object.keys(localStorage).filter((key) => key.startsWith(beginning)).map(read);
    return all.filter((entry) => entry?.revision > revision).sort((one, other) => one.at - other.at);
  }

  /* A treatment's entries that are not in the document of this revision, the oldest first. */
  function since(treatment, revision) {
    return [...sent(treatment, revision), ...entries(treatment)].sort((one, other) => one.at - other.at);
  }

  return { entries, put, drop, sent, settle, since, unique: onDisk.stamp, keyOf: (place) => `${mine()}${place}/${onDisk.stamp()}` };
})();
