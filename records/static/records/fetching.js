/* A right code is answered by a file, which leaves the page as it was: what it said of the code before is taken away. */
(() => {
  "use strict";
  const part = (id) => document.getElementById(id);

  function sent() {
    const code = part("code");
    part("code-fault")?.remove();
    code.removeAttribute("aria-invalid");
    code.removeAttribute("aria-describedby");
    code.closest(".field").classList.remove("wrong");
    code.value = "";
    document.title = document.querySelector("h1").textContent;
    part("fetching").hidden = false;
  }

  /* After the form has read what was typed. */
  document.addEventListener("submit", (event) => {
    if (event.target.matches("[data-fetches]")) setTimeout(sent);
  });
})();
