/* Of the lots only those of the chosen product can be chosen. */
document.addEventListener("DOMContentLoaded", () => {
  "use strict";
  for (const lots of document.querySelectorAll("select[data-of-product]")) {
    const product = lots.form.elements[lots.dataset.ofProduct];
    const all = [...lots.options];
    const offer = () => {
      const chosen = lots.value;
      const fitting = all.filter((option) => !option.dataset.product || option.dataset.product === product.value);
      lots.replaceChildren(...fitting);
      lots.value = fitting.some((option) => option.value === chosen) ? chosen : "";
    };
    product.addEventListener("change", offer);
    offer();
  }
});
