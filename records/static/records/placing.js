/* One value put at one path of a document, as the service does it: members by name, items by id, or by index if
   they have none. */
window.placing = (() => {
  "use strict";

  const stepsOf = (path) =>
    path.split(".").map((part) => {
      const [, name, , item] = part.match(/^([a-z][a-z0-9_]*)(\[([A-Za-z0-9_-]*)\])?$/);
      return { name, item };
    });

  const isIndex = (item) => /^[0-9]+$/.test(item);

  function indexOf(items, item) {
    if (isIndex(item)) return Number(item) < items.length ? Number(item) : -1;
    return items.findIndex((each) => each.id === item);
  }

  function at(document, path) {
    let value = document;
    for (const { name, item } of stepsOf(path)) {
      value = value?.[name];
      if (item !== undefined && value) value = value[indexOf(value, item)];
    }
    return value ?? null;
  }

  /* The object that holds the last step, undefined where there is none; objects on the way are made. */
  function ownerOf(document, steps) {
    let owner = document;
    for (const { name, item } of steps) {
      if (item === undefined) owner[name] ??= {};
      owner = item === undefined ? owner[name] : owner[name]?.[indexOf(owner[name], item)];
      if (!owner) return undefined;
    }
    return owner;
  }

  function placeItem(owner, { name, item }, value) {
    const items = owner[name] ?? [];
    const index = indexOf(items, item);
    if (value === null) items.splice(index < 0 ? items.length : index, 1);
    else if (index < 0) items.push(isIndex(item) ? value : { id: item, ...value });
    else items[index] = value;
    if (items.length) owner[name] = items;
    else delete owner[name];
  }

  /* Null takes the member or item out; a list without items is left out. True if it had a place. */
  function put(document, path, value) {
    const steps = stepsOf(path);
    const last = steps.pop();
    if (value === null && at(document, path) === null) return true;
    const owner = ownerOf(document, steps);
    if (!owner) return false;
    if (last.item !== undefined) placeItem(owner, last, value);
    else if (value === null) delete owner[last.name];
    else owner[last.name] = value;
    return true;
  }

  /* A path by indices as the form has it: by the ids of items, where they have one. */
  function byIds(document, path) {
    let value = document;
    const steps = path.split(".").map((step) => {
      const [, name, at] = step.match(/^([^[]+)(?:\[(\d+)\])?$/);
      value = value?.[name];
      if (at === undefined) return name;
      value = value?.[Number(at)];
      return `${name}[${value?.id ?? at}]`;
    });
    return steps.join(".");
  }

  return { at, put, byIds };
})();
