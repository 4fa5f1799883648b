// @ts-check
/**
 * How the screen looks: as the device has it, for the sun, or for the night. No module and first in
 * the page, so that it is settled before the first paint. What is chosen is kept as one word.
 */
(() => {
  const KEY = "damper-bench-look";
  const LOOKS = ["sun", "night"];
  const root = document.documentElement;

  /** @returns {string} the look that is kept; nothing for the device's own */
  function kept() {
    try {
      return localStorage.getItem(KEY) ?? "";
    } catch {
      return ""; // storage is switched off
    }
  }

  /** @param {string} look */
  function show(look) {
    if (LOOKS.includes(look)) root.dataset.look = look;
    else delete root.dataset.look;
    const choices = /** @type {NodeListOf<HTMLInputElement>} */ (document.querySelectorAll("input[name=look]"));
    for (const choice of choices) choice.checked = choice.value === (root.dataset.look ?? "device");
  }

  addEventListener("change", ({ target }) => {
    const { name, value } = /** @type {HTMLInputElement} */ (target);
    if (name !== "look") return;
    show(value);
    try {
      localStorage.setItem(KEY, value);
    } catch {
      // it holds until the page is closed
    }
  });
  addEventListener("storage", ({ key }) => key === KEY && show(kept()));
  addEventListener("pageshow", () => show(kept()));
  document.addEventListener("DOMContentLoaded", () => show(kept()));
  show(kept());
})();
