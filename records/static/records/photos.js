/* Shows the photos that are only on this device beside their steps, takes new ones, and keeps the record from
   being signed while one of them is not in it. Without this file a photo goes by the form's own button. */
(() => {
  "use strict";
  const SMALL = 120;
  const HOURS = { hour: "2-digit", minute: "2-digit", hourCycle: "h23" };
  const drawn = new Map(); // key -> its row
  let here = null; // photos of this device, null until they were looked up
  let drawing = Promise.resolve();

  const place = () => document.getElementById("photos-here");
  const controls = () => [...document.querySelectorAll("#section .photos[data-step]")];
  const controlOf = (step) => controls().find((control) => control.dataset.step === step);

  function wordsFor({ state, share, words }) {
    return words ?? place().dataset[state]?.replace("SHARE", share) ?? "";
  }

  /* Drawn on a canvas: an address of the device's own would need a wider rule for pictures on every page. */
  async function drawSmall(canvas, blob) {
    try {
      const picture = await createImageBitmap(blob);
      const scale = SMALL / Math.min(picture.width, picture.height);
      const [width, height] = [picture.width * scale, picture.height * scale];
      canvas.getContext("2d").drawImage(picture, (SMALL - width) / 2, (SMALL - height) / 2, width, height);
      picture.close();
    } catch {
      /* The server says what is wrong with it. */
    }
  }

  function rowOf(photo) {
    const row = place().querySelector("template").content.cloneNode(true).firstElementChild;
    const time = new Date(photo.takenAt).toLocaleTimeString(document.documentElement.lang, HOURS);
    const what = `${photo.title}, ${time}`;
    row.querySelector("canvas").setAttribute("aria-label", what);
    row.querySelector(".what").textContent = place().dataset.treatment ? what : `${photo.number}: ${what}`;
    row.querySelector("button span").textContent = ` ${what}`;
    row.querySelector("button").addEventListener("click", () => photoShelf.drop(photo.key));
    drawSmall(row.querySelector("canvas"), photo.blob);
    return row;
  }

  function show(photo) {
    const row = drawn.get(photo.key) ?? rowOf(photo);
    drawn.set(photo.key, row);
    const list = controlOf(photo.step)?.querySelector("ul") ?? place().querySelector("ul");
    if (row.parentElement !== list) list.append(row);
    row.querySelector("button").hidden = Boolean(window.sealedHere?.of(photo.treatment)); // the signature names it
    const words = wordsFor(photoShelf.progressOf(photo.key));
    const slot = row.querySelector(".keep");
    if (slot.textContent !== words) slot.textContent = words;
  }

  async function draw() {
    here = await photoShelf.waiting(place().dataset.treatment);
    const keys = new Set(here.map(({ key }) => key));
    for (const [key, row] of drawn) {
      if (keys.has(key)) continue;
      row.remove();
      drawn.delete(key);
    }
    here.forEach(show);
    sayWhatFor();
    place().hidden = !place().querySelector("ul").children.length;
    document.documentElement.dataset.photosHere = here.length;
  }

  /* What was signed here was signed with them. */
  function sayWhatFor() {
    const signedHere = here.length > 0 && here.every(({ treatment }) => window.sealedHere?.of(treatment));
    for (const words of place().querySelectorAll("[data-for]")) words.hidden = (words.dataset.for === "signed-here") !== signedHere;
  }

  /* One after the other, so that a later look is never overtaken by an earlier one. */
  function drawAgain() {
    drawing = drawing.then(draw, draw);
    return drawing;
  }

  /* What was signed on this device takes no more photos. */
  function lockIfSealed() {
    if (!window.sealedHere?.of(place().dataset.treatment)) return;
    for (const input of document.querySelectorAll(".photos input[type=file], [data-sends-photo]")) input.disabled = true;
  }

  /* A step that was ticked just now has its photos, too, before the page is drawn anew, and so has an incident that
     was added just now. */
  function addControls() {
    for (const item of document.querySelectorAll("#section .item[data-shown]")) {
      if (!controlOf(item.dataset.shown)) addControl(item, item.dataset.shown, item.querySelector("h3").textContent);
    }
    for (const tick of document.querySelectorAll('#section input[name="tick:protection"]')) {
      const there = controlOf(tick.value);
      if (tick.checked && !there) addControl(tick.closest("[data-field]"), tick.value, tick.closest("label").textContent.trim());
      else if (!tick.checked && there?.dataset.added && !there.querySelector("li")) there.remove();
    }
  }

  function addControl(around, step, title) {
    const control = document.getElementById("photo-control").content.cloneNode(true).firstElementChild;
    Object.assign(control.dataset, { step, title, added: "yes" });
    const words = control.querySelector("[data-words]");
    words.textContent = words.dataset.words.replace("STEP", title);
    control.setAttribute("aria-label", control.dataset.called.replace("STEP", title));
    if (around.matches(".item")) (around.querySelector(":scope > [name=remove]") ?? around.lastElementChild).before(control);
    else around.after(control);
  }

  async function take(input) {
    const control = input.closest(".photos");
    const slot = control.querySelector(":scope > .keep");
    const { treatment, number, photos, most, kept, tooBig, otherKind, noRoom } = place().dataset;
    const { step, title } = control.dataset;
    const [file] = input.files;
    input.value = "";
    if (!file) return;
    if (file.size > Number(most)) {
      slot.textContent = tooBig;
      return;
    }
    try {
      if (!(await photoShelf.isTaken(file))) {
        slot.textContent = otherKind;
        return;
      }
      slot.textContent = kept;
      await photoShelf.keep(file, { treatment, number, step, title, address: photos });
    } catch {
      slot.textContent = noRoom;
    }
  }

  /* The form around a control must not take a photo for an answer of its own. */
  document.addEventListener("change", (event) => {
    if (event.target.name?.startsWith("tick:")) addControls();
    if (!photoShelf.works || !event.target.matches(".photos input[type=file]")) return;
    event.stopPropagation();
    take(event.target);
  }, true);
  document.addEventListener("photos:sent", ({ detail }) => {
    const slot = controlOf(detail.step)?.querySelector(":scope > .keep");
    if (slot) slot.textContent = `${detail.title}: ${place().dataset.sent}`;
  });
  for (const changed of ["item:added", "draft:back"]) {
    document.addEventListener(changed, () => {
      if (!photoShelf.works) return;
      addControls();
      drawAgain();
    });
  }
  document.addEventListener("photos:changed", drawAgain);
  document.addEventListener("sealed:changed", () => photoShelf.works && drawAgain());
  document.addEventListener("htmx:afterSettle", (event) => {
    if (event.target.id !== "section" || !photoShelf.works) return;
    addControls();
    drawAgain();
  });
  document.addEventListener("submit", async (event) => {
    if (!event.target.matches("[data-signs]") || event.defaultPrevented || here?.length === 0) return;
    event.preventDefault();
    await drawAgain();
    if (!here.length) return event.target.requestSubmit(event.submitter);
    place().focus();
    photoShelf.send();
  });
  document.addEventListener("DOMContentLoaded", () => {
    if (!photoShelf.works) {
      here = [];
      return;
    }
    document.documentElement.dataset.keepsPhotos = "yes";
    if (document.getElementById("photo-control")) addControls();
    lockIfSealed();
    drawAgain();
  });
})();
