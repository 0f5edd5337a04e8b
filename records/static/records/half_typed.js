/* A box for a day or a time that is half filled in is sent as nothing: the form waits, and it is said beside the box. */
(() => {
  "use strict";
  const ID = "half-typed";
  let wrong = null;

  function forget() {
    document.getElementById(ID)?.remove();
    wrong?.removeAttribute("aria-invalid");
    wrong?.setAttribute("aria-describedby", wrong.dataset.describedBefore);
  }

  function say(box) {
    const said = Object.assign(document.createElement("span"), { className: "sentence", id: ID });
    said.textContent = document.body.dataset.halfTyped;
    (box.closest(".together") || box).before(said);
    box.dataset.describedBefore = box.getAttribute("aria-describedby") || "";
    box.setAttribute("aria-describedby", `${ID} ${box.dataset.describedBefore}`.trim());
    box.setAttribute("aria-invalid", "true");
    const folded = box.closest("details");
    if (folded) folded.open = true;
    box.focus();
  }

  function look(event) {
    forget();
    wrong = [...event.target.elements].find((each) => each.validity?.badInput) || null;
    if (!wrong) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    say(wrong);
  }

  document.addEventListener("submit", look, true);
})();
