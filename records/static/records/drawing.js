/* Draws from a filled tank while there is no connection: the mix as the service will make it of the same draw. */
window.drawing = (() => {
  "use strict";
  const DIGITS = 6;
  const MOST_DECIMALS = 9;
  const ten = (power) => 10n ** BigInt(Math.max(power, 0));

  function exact(text) {
    const [whole, decimals = ""] = text.split(".");
    return [BigInt(whole + decimals), ten(decimals.length)];
  }

  /* Half up, to six significant digits and at most nine decimals, without zeros at the end. */
  function written(above, below) {
    let leading = String(above).length - String(below).length;
    if (above * ten(-leading) < below * ten(leading)) leading -= 1;
    const places = Math.min(DIGITS - 1 - leading, MOST_DECIMALS);
    const [over, under] = [above * ten(places), below * ten(-places)];
    const rounded = (2n * over + under) / (2n * under);
    if (places <= 0) return String(rounded * ten(-places));
    const digits = String(rounded).padStart(places + 1, "0");
    return `${digits.slice(0, -places)}.${digits.slice(-places)}`.replace(/\.?0+$/, "");
  }

  /* What of a part of the whole tank is in an amount that was drawn; `units` say how they go into each other. */
  function share(part, amount, whole, units) {
    const [[p, perP], [a, perA], [w, perW]] = [part, amount, whole].map(({ value }) => exact(value));
    const [[inA, overA], [inW, overW]] = [amount, whole].map(({ unit }) => units[unit].map(BigInt));
    return { value: written(p * a * inA * perW * overW, perP * perA * overA * w * inW), unit: part.unit };
  }

  /* By path, what the mix holds then; null takes a planned line out. */
  function valuesOf({ mix, whole, load }, amount, units, path, planned) {
    const shareOf = (part) => share(part, amount, whole, units);
    const lines = mix.products.map((line) => ({ ...line, amount: shareOf(line.amount) }));
    const gone = planned.filter((id) => !lines.some((line) => line.id === id));
    const { products, diluent, ...others } = mix;
    return [
      ...gone.map((id) => [`${path}.products[${id}]`, null]),
      ...lines.map((line) => [`${path}.products[${line.id}]`, line]),
      [`${path}.diluent`, diluent ? { ...diluent, amount: shareOf(diluent.amount) } : null],
      [`${path}.loads`, [{ volume: amount, ...load }]],
      ...Object.entries(others).map(([name, value]) => [`${path}.${name}`, value]),
    ];
  }

  const plannedIn = (item, path) =>
    [...item.querySelectorAll("[name^='was:']")]
      .map(({ name }) => name.slice(4))
      .filter((name) => name.startsWith(`${path}.products[`))
      .map((name) => name.slice(path.length).match(/\[([^\]]+)\]/)[1])
      .filter((id, at, all) => all.indexOf(id) === at);

  const isWithin = (path, around) => path === around || path.startsWith(`${around}.`) || path.startsWith(`${around}[`);

  /* The fields of which the draw says what they hold, whatever was typed there before. */
  function replaced(item, path, values) {
    const placed = [path + ".products", ...values.map(([each]) => each)];
    const pathOf = (field) => JSON.parse(field.dataset.control).path;
    return [...item.querySelectorAll("[data-field]")].filter((field) => placed.some((each) => isWithin(pathOf(field), each)));
  }

  /* Gauges err, so more may be drawn than should have been left; it is said. */
  function sayIfOver(box, { key, amount }) {
    const left = JSON.parse(box.dataset.tanks).find((each) => each.key === key)?.left;
    const units = JSON.parse(box.dataset.units);
    const note = box.querySelector(".over-drawn");
    const [[a, perA], [l, perL]] = [amount, left ?? amount].map(({ value }) => exact(value));
    const [[inA, overA], [inL, overL]] = [amount, left ?? amount].map(({ unit }) => units[unit].map(BigInt));
    note.hidden = a * inA * perL * overL <= l * inL * perA * overA;
    note.textContent = note.hidden ? "" : note.dataset.words.replace("LEFT", `${left.value} ${left.unit}`);
  }

  /* The draw is told with each field of the mix, so that what is typed into one later is no rival of it. */
  function put(field, told, placed, said) {
    const item = field.closest(".item");
    for (const each of item.querySelectorAll("[data-field]")) {
      each.querySelector("[name='draw-away']")?.remove();
      const input = Object.assign(document.createElement("input"), { type: "hidden", name: "draw-away", value: told });
      input.dataset.placed = JSON.stringify({ told, placed });
      each.append(input);
    }
    for (const [path, value] of placed) {
      const line = value === null && document.getElementById(`item-${path.replace(/[^a-z0-9]+/g, "-").replace(/-$/, "")}`);
      if (line) line.hidden = true;
      show(item, path, value);
    }
    sayIfOver(field.closest("details"), JSON.parse(told));
    const words = field.querySelector(".drawn");
    words.textContent = words.dataset.words.replace("WHAT", () => said);
    field.dataset.text = said;
    field.closest("details").open = true;
  }

  /* The amounts stand in the fields that the page has for them. */
  function show(item, path, value) {
    const amount = value?.amount;
    if (!amount) return;
    const [number] = item.querySelectorAll(`[name="v:${CSS.escape(`${path}.amount`)}"]`);
    const unit = item.querySelector(`[name="u:${CSS.escape(`${path}.amount`)}"]`);
    const lot = item.querySelector(`[name="v:${CSS.escape(`${path}.lot`)}"]`);
    if (number) number.value = amount.value;
    if (unit) unit.value = amount.unit;
    if (lot && value.lot) lot.value = value.lot;
    const was = number?.closest("[data-field]").querySelector("[name^='was:']");
    if (was) was.value = JSON.stringify([amount.value, amount.unit]);
    const wasLot = lot?.closest("[data-field]").querySelector("[name^='was:']");
    if (wasLot && value.lot) wasLot.value = JSON.stringify([value.lot]);
  }

  const amountIn = (box) => {
    const [number, unit] = ["0", "1"].map((part) => box.querySelector(`[name="${box.dataset.prefix}-amount_${part}"]`).value);
    return reading.read({ reads: "quantity", belowZero: false, aboveZero: true }, [number, unit]);
  };

  const saidOf = (amount, values) =>
    [amount, ...values.map(([, value]) => value).filter((value) => value?.amount).map((value) => ({ ...value.amount, name: value.name }))]
      .map(({ value, unit, name }) => `${name ? `${name} ` : ""}${value} ${unit}`)
      .join(", ");

  /* Whether this device could draw what the button asks for: the tank is kept, and the amount is read. */
  function draw(button) {
    const box = button.closest("details");
    const key = box.querySelector("input[type=radio]:checked")?.value;
    const tank = JSON.parse(box.dataset.tanks).find((each) => each.key === key);
    const units = JSON.parse(box.dataset.units);
    try {
      const amount = tank && amountIn(box);
      if (!amount) return false;
      const path = button.value;
      const item = button.closest(".item");
      const values = valuesOf(tank, amount, units, path, plannedIn(item, path));
      for (const field of replaced(item, path, values)) field.dispatchEvent(new Event("draft:gone", { bubbles: true }));
      const field = box.querySelector("[data-drawn]");
      put(field, JSON.stringify({ path, key, amount, id: shelf.unique() }), values, saidOf(amount, values));
      field.dispatchEvent(new Event("draft:typed", { bubbles: true }));
      return true;
    } catch (error) {
      if (!(error instanceof reading.Unreadable)) throw error;
      return false;
    }
  }

  /* Puts a draw back where the page was drawn anew. */
  function addFor(entry) {
    const field = document.getElementById(entry.field);
    const drawn = entry.draws?.[0];
    if (!drawn || !field?.matches("[data-drawn]") || field.querySelector("[data-placed]")) return;
    put(field, drawn.told, drawn.placed, entry.text);
  }

  return { draw, addFor, exact, share, written };
})();
