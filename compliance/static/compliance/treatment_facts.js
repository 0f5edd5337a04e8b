/* The facts of a treatment document, as the rules look them up: each value knows where it stands, or what is missing. */
window.treatmentFacts = (() => {
  "use strict";
  const HALF_AN_HOUR = 1800n * exact.SECOND;
  const READINGS = "weather.readings";

  /* What can't be told here, and is left to the server. */
  class Left extends Error {}

  const isQuantity = (value) => typeof value.value === "string" && typeof value.unit === "string";
  const leaf = (value, about, lacks = []) => ({ kind: "leaf", value, about, lacks });
  const missing = (...paths) => leaf(null, paths, paths);
  const list = (items, about, lacks = [], absent = false) => ({ kind: "list", items, about, lacks, absent });
  const branch = (value, path) => ({ kind: "branch", value, path });
  const aboutOf = (node) => (node.kind === "branch" ? [node.path] : node.about);
  const branches = (items) => items.filter((item) => item.kind === "branch");

  function node(value, path) {
    if (Array.isArray(value)) return list(value.map((each, at) => node(each, `${path}[${at}]`)), [path]);
    if (typeof value === "object" && !isQuantity(value)) return branch(value, path);
    return leaf(value, [path]);
  }

  function member({ value, path, derived }, name) {
    if (derived?.[name]) return derived[name];
    const there = path ? `${path}.${name}` : name;
    const found = Object.hasOwn(value, name) ? value[name] : null;
    return found === null ? missing(there) : node(found, there);
  }

  function walk(from, names) {
    let at = from;
    for (const [place, name] of names.entries()) {
      if (at.kind === "list") return through(at, names.slice(place));
      if (at.kind === "leaf") {
        const paths = at.lacks.length ? at.lacks : at.about;
        return missing(...paths.map((path) => [path, ...names.slice(place)].join(".")));
      }
      at = member(at, name);
    }
    return at;
  }

  function through(several, names) {
    const [items, lacks] = [[], [...several.lacks]];
    for (const item of several.items) {
      const inner = walk(item, names);
      if (inner.kind === "list") items.push(...inner.items);
      lacks.push(...(inner.kind === "list" ? inner.lacks : aboutOf(inner)));
    }
    return list(items, several.about, lacks, several.absent);
  }

  function itemsOf(found) {
    if (found.kind === "list") return found;
    const paths = found.kind === "leaf" ? found.lacks : [found.path];
    return list([], paths, paths, true);
  }

  function isPresent(found) {
    if (found.kind === "leaf") return found.value !== null;
    if (found.kind === "list") return found.items.length > 0;
    return Object.values(found.value).some((value) => value !== null);
  }

  function timeAt(found) {
    const at = found.kind === "leaf" && found.value !== null ? exact.time(found.value) : null;
    if (at === null && isPresent(found)) throw new Left("no time");
    return at;
  }

  function of(document) {
    const root = branch(document, "");
    const look = (path) => walk(root, path.split("."));
    const moment = (name) => timeAt(look(`timing.${name}`));
    const stoodDown = look("record.result").value === "stood-down";
    const finished = ["record.result", "timing.finished_at", "timing.recorded_at"].some((path) => isPresent(look(path)));

    /* Calm air has a speed of nothing, also where none was written down. */
    function calm(reading) {
      const still = member(reading, "calm").value === true && !isPresent(member(reading, "wind_speed"));
      const air = leaf({ value: "0", unit: "mph" }, [`${reading.path}.calm`]);
      return still ? { ...reading, derived: { wind_speed: air } } : reading;
    }

    function chosen(belongs, lacks) {
      const found = look(READINGS);
      if (found.kind !== "list") return list([], [READINGS], [READINGS], true);
      const [taken, unsure] = [[], []];
      for (const reading of branches(found.items)) {
        const at = timeAt(member(reading, "at"));
        const answer = at === null ? null : belongs(at);
        if (answer === null) unsure.push(...(at === null ? [`${reading.path}.at`] : lacks));
        else if (answer) taken.push([at, calm(reading)]);
      }
      taken.sort(([one], [other]) => Number(one - other > 0n) - Number(one - other < 0n));
      return list(taken.map(([, reading]) => reading), [READINGS], [...new Set(unsure)]);
    }

    const unstated = () => ["started_at", "finished_at"].filter((name) => moment(name) === null).map((name) => `timing.${name}`);

    function readings() {
      const [start, finish] = [moment("started_at"), moment("finished_at")];
      const found = chosen((at) => {
        if ((start !== null && at < start - HALF_AN_HOUR) || (finish !== null && at > finish)) return false;
        return start !== null && (finish !== null || at <= start) ? true : null;
      }, unstated());
      return atWork(found);
    }

    /* Before the finish also those that may belong: a crew must see in time that it has to wait or stop. */
    function readingsSoFar() {
      const sure = readings();
      if (finished || sure.absent) return sure;
      const start = moment("started_at");
      return { ...chosen((at) => start === null || start - HALF_AN_HOUR <= at, []), lacks: sure.lacks };
    }

    /* Null if the moment lies outside of the pause; nothing if inside; else the ends that would tell. */
    function openEnds(pause, at) {
      const names = ["started_at", "finished_at"];
      const ends = names.map((name) => timeAt(member(pause, name)));
      const [earliest, latest] = names.map((name, place) => ends[place] ?? moment(name));
      if ((earliest !== null && at <= earliest) || (latest !== null && at >= latest)) return null;
      return names.filter((name, place) => ends[place] === null).map((name) => `${pause.path}.${name}`);
    }

    /* Without those that were taken inside a pause: nobody sprayed then. */
    function atWork(readings) {
      const pauses = branches(itemsOf(look("timing.pauses")).items);
      const [items, lacks] = [[], [...readings.lacks]];
      for (const reading of readings.items) {
        const at = timeAt(member(reading, "at"));
        const open = pauses.map((pause) => openEnds(pause, at)).filter((ends) => ends !== null);
        if (open.some((ends) => !ends.length)) continue;
        if (!open.length) items.push(reading);
        lacks.push(...open.flat());
      }
      return { ...readings, items, lacks: [...new Set(lacks)] };
    }

    function readingsBetween() {
      const [start, finish] = [moment("started_at"), moment("finished_at")];
      if (start === null || finish === null) return chosen(() => null, unstated());
      return atWork(chosen((at) => start <= at && at <= finish, []));
    }

    /* Once the work is finished without those that no mix went on and that have no treated area. */
    function surfaces() {
      const all = itemsOf(look("surfaces"));
      const wentOn = branches(itemsOf(look("mixes")).items).map((mix) => namesOf(mix, all.items));
      if (all.absent || !finished || !wentOn.length || wentOn.some((paths) => !paths)) return all;
      const treated = (one) => isPresent(member(one, "treated_area")) || wentOn.some((paths) => paths.includes(one.path));
      return { ...all, items: all.items.filter(treated) };
    }

    /* The surfaces that a mix, and what was left over of it, went on; null where that is not said. */
    function namesOf(mix, known) {
      const left = member(mix, "left_over");
      const sprayed = left.kind === "branch" ? member(left, "surface").value : null;
      if (sprayed === null && left.kind === "branch" && member(left, "disposition").value === "applied-to-labelled-site") return null;
      const listed = itemsOf(member(mix, "surfaces"));
      const on = branches(listed.items).map((each) => member(each, "surface").value);
      const named = (reference) => known.find((one) => [member(one, "id").value, member(one, "name").value].includes(reference));
      const paths = on.map((reference) => (reference === null ? null : (named(reference)?.path ?? null)));
      const all = sprayed === null ? paths : [...paths, named(sprayed)?.path ?? null];
      return listed.absent || !all.length || all.includes(null) ? null : all;
    }

    function products() {
      const mixes = itemsOf(look("mixes"));
      const lines = branches(mixes.items).map((mix) => itemsOf(member(mix, "products")));
      const stated = lines.flatMap((line) => line.items);
      const lacks = [...mixes.lacks, ...lines.flatMap((line) => line.lacks)];
      return list(stated, ["mixes"], stated.length || lacks.length || stoodDown ? lacks : ["mixes"]);
    }

    function restrictedUse() {
      if (stoodDown) return leaf(false, ["record.result"]);
      const uses = branches(itemsOf(look("mixes")).items)
        .flatMap((mix) => branches(itemsOf(member(mix, "products")).items))
        .map((line) => member(line, "restricted_use"));
      const restricted = uses.filter((use) => use.value === true).flatMap((use) => use.about);
      const lacks = uses.length ? uses.flatMap((use) => use.lacks) : ["mixes"];
      if (restricted.length) return leaf(true, restricted);
      return lacks.length ? missing(...lacks) : leaf(false, uses.flatMap((use) => use.about));
    }

    function people(wanted) {
      const all = itemsOf(look("people"));
      const [taken, lacks] = [[], [...all.lacks]];
      for (const person of branches(all.items)) {
        const tasks = itemsOf(member(person, "tasks"));
        if (tasks.absent) lacks.push(...tasks.lacks);
        else if (wanted(tasks.items.map((task) => task.value))) taken.push(person);
      }
      return list(taken, all.about, lacks, all.absent);
    }

    const workedOut = {
      applied: () => leaf(!stoodDown, ["record.result"]),
      restricted_use: restrictedUse,
      products,
      surfaces,
      readings,
      readings_between: readingsBetween,
      applicators: () => people((tasks) => tasks.includes("sprayed")),
      mixers: () => people((tasks) => tasks.includes("mixed")),
      helpers: () => people((tasks) => !tasks.includes("sprayed") && !tasks.includes("mixed")),
    };

    /* The fact at a path, in a scope of what is judged and of the item that is gone through. */
    function find(path, scope) {
      const [first, ...names] = path.split(".");
      if (first === "treatment") return walk(workedOut[names[0]](), names.slice(1));
      return scope[first] ? walk(scope[first], names) : look(path);
    }

    const day = () => exact.day(look("timing.started_at").value ?? look("timing.planned_at").value ?? "", look("site.time_zone").value);

    return { look, find, readingsSoFar: () => atWork(readingsSoFar()), stoodDown, day };
  }

  return { of, Left, missing, branch, branches, itemsOf, member, isPresent, aboutOf, timeAt };
})();
