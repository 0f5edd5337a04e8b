/* Confirms the signature with a passkey: the form goes as with the password, with what the passkey answered. */
(() => {
  "use strict";
  const button = () => document.getElementById("sign-by-passkey");

  async function ask() {
    const form = document.querySelector("form[data-signs]");
    const asked = JSON.parse(document.getElementById("passkey-asked").textContent);
    try {
      form.elements.credential.value = JSON.stringify(await webauthnJSON.get(asked));
    } catch {
      button().parentElement.querySelector(".sentence").textContent = button().dataset.failed;
      return;
    }
    form.requestSubmit();
  }

  document.addEventListener("DOMContentLoaded", () => button()?.addEventListener("click", ask));
})();
