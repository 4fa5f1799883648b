// @ts-check
/**
 * What only paper needs: the day it was printed, no box in which nothing stands, and the car's name
 * in the title, which a browser proposes for the file.
 */

import { all, byId } from "./dom.js";
import { today } from "./words.js";

let title = "";

addEventListener("beforeprint", () => {
  title = document.title;
  document.title = `${byId("whose-name").textContent} - ${title}`;
  for (const head of /** @type {HTMLElement[]} */ (all(".top"))) head.dataset.printed = today();
  for (const input of /** @type {HTMLInputElement[]} */ (all(".open .field input"))) input.closest(".field")?.classList.toggle("empty", !input.value);
});
addEventListener("afterprint", () => {
  document.title = title;
  for (const field of all(".field.empty")) field.classList.remove("empty");
});
