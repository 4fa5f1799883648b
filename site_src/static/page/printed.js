// @ts-check
/**
 * Paper alone needs the day it was printed, every value of the car and every step of a build, no
 * empty box, and the car's name in the title, which a browser proposes for the file.
 */

import { all, byId } from "./dom.js";
import { pageTitle } from "./moving.js";
import { today } from "./words.js";

/** Folds that were opened for the paper. @type {HTMLDetailsElement[]} */
const opened = [];

addEventListener("beforeprint", () => {
  document.title = `${byId("whose-name").textContent} - ${pageTitle()}`;
  const closed = /** @type {HTMLDetailsElement[]} */ (all(".open :is(.chapter, .build-step):not([open])"));
  for (const fold of closed) fold.open = true;
  opened.push(...closed);
  for (const head of /** @type {HTMLElement[]} */ (all(".top"))) head.dataset.printed = today();
  for (const input of /** @type {HTMLInputElement[]} */ (all(".open .field input"))) input.closest(".field")?.classList.toggle("empty", !input.value);
});
addEventListener("afterprint", () => {
  document.title = pageTitle();
  for (const fold of opened.splice(0)) fold.open = false;
  for (const field of all(".field.empty")) field.classList.remove("empty");
});
