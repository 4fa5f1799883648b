// @ts-check
/** What only paper needs: the day it was printed, every value of the car, no box in which nothing stands. */

import { all } from "./dom.js";
import { today } from "./words.js";

/** Folds that were opened for the paper. @type {HTMLDetailsElement[]} */
let opened = [];

addEventListener("beforeprint", () => {
  opened = all(".open .chapter:not([open])");
  for (const fold of opened) fold.open = true;
  for (const head of /** @type {HTMLElement[]} */ (all(".top"))) head.dataset.printed = today();
  for (const input of /** @type {HTMLInputElement[]} */ (all(".open .field input"))) input.closest(".field")?.classList.toggle("empty", !input.value);
});
addEventListener("afterprint", () => {
  for (const fold of opened) fold.open = false;
  for (const field of all(".field.empty")) field.classList.remove("empty");
});
