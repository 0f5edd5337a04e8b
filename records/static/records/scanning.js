/* Reads the code on a container with the camera into the field beside the button, where the browser can read codes. */
(() => {
  "use strict";
  const LOOK_EVERY_MS = 250;
  const pane = () => document.getElementById("scan-pane");
  const camera = () => pane().querySelector("video");
  const pause = () => new Promise((go) => setTimeout(go, LOOK_EVERY_MS));

  async function offer() {
    if (!("BarcodeDetector" in window) || !navigator.mediaDevices?.enumerateDevices || !pane()) return;
    const devices = await navigator.mediaDevices.enumerateDevices();
    if (devices.some(({ kind }) => kind === "videoinput")) document.documentElement.dataset.scans = "yes";
  }

  function write(field, text) {
    field.querySelector('[name^="v:"]').value = text;
    field.dispatchEvent(new Event("draft:typed", { bubbles: true }));
  }

  /* What was read stands beside the field as it is, with the way back to what stood there. */
  function take(field, text) {
    const before = field.querySelector('[name^="v:"]').value;
    const said = field.querySelector(".scanned");
    const undo = Object.assign(document.createElement("button"), { type: "button", className: "button second" });
    undo.textContent = said.dataset.undo;
    undo.addEventListener("click", () => {
      write(field, before);
      said.replaceChildren();
      field.querySelector('[name^="v:"]').focus();
    });
    write(field, containerCode.lotIn(text));
    said.replaceChildren(`${said.dataset.words.replace("TEXT", () => text)} `, undo);
    undo.focus({ preventScroll: true });
  }

  /* The text of the first code that is seen, null once the pane is closed. */
  async function seen() {
    const detector = new BarcodeDetector();
    while (pane().open) {
      const [code] = await detector.detect(camera()).catch(() => []);
      if (code?.rawValue) return code.rawValue;
      await pause();
    }
    return null;
  }

  async function scan(field) {
    pane().querySelector("[role=status]").textContent = "";
    pane().showModal();
    try {
      camera().srcObject = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
      await camera().play();
    } catch {
      pane().querySelector("[role=status]").textContent = pane().dataset.noCamera;
      return;
    }
    const text = await seen();
    pane().close();
    if (text) take(field, text);
  }

  function stop() {
    for (const track of camera().srcObject?.getTracks() ?? []) track.stop();
    camera().srcObject = null;
  }

  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-scan]");
    if (button) scan(button.closest("[data-field]"));
  });
  document.addEventListener("DOMContentLoaded", () => {
    pane()?.addEventListener("close", stop);
    offer().catch(() => {
      /* Without the list of devices there is no camera to offer. */
    });
  });
})();
