// @ts-check
/** What only paper needs: the day it was printed, and no box in which nothing stands. */

import { all } from "./dom.js";
import { today } from "./words.js";

addEventListener("beforeprint", () => {
  for (const head of /** @type {HTMLElement[]} */ (all(".top"))) head.dataset.printed = today();
  for (const input of /** @type {HTMLInputElement[]} */ (all(".open .field input"))) input.closest(".field")?.classList.toggle("empty", !input.value);
});
addEventListener("afterprint", () => {
  for (const field of all(".field.empty")) field.classList.remove("empty");
});
