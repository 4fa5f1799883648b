// @ts-check
/**
 * What stands in a form: the car's values, what was typed, the fields that belong to the choices
 * made. A form is made ready when it is first needed, because all of them at once would keep a slow
 * phone from answering a touch.
 */

import { unmet } from "./conditions.js";
import { all } from "./dom.js";
import { renew } from "./entering.js";
import { dress } from "./fields.js";
import { state } from "./store.js";

/** @type {WeakSet<HTMLFormElement>} */
const ready = new WeakSet();

/** Put the fields of a form into the page; until then they are text. @param {HTMLFormElement} form */
export function unfold(form) {
  const folded = form.querySelector(":scope > noscript");
  if (folded) form.innerHTML = folded.textContent ?? "";
}

/** See that what was typed stands in a form; the car's values come with its answer. @param {HTMLFormElement} form */
export function prepare(form) {
  if (!ready.has(form)) fill(form, {});
}

/** Put the car's values in every field that was not typed in. @param {HTMLFormElement} form @param {Record<string, string>} texts */
export function fill(form, texts) {
  ready.add(form);
  unfold(form);
  const typed = state.typed[form.id] ?? {};
  const filled = Object.entries({ ...texts, ...typed }).filter(([, text]) => text);
  for (const rows of /** @type {HTMLElement[]} */ (all("[data-grows]", form))) {
    const mine = filled.filter(([name]) => name.startsWith(`${rows.dataset.grows}.`));
    const needed = Math.max(0, ...mine.map(([name]) => Number(name.split(".")[1])));
    while (all(".row", rows).length < needed && grow(rows));
  }
  for (const input of /** @type {HTMLInputElement[]} */ (all("input", form))) {
    const text = typed[input.name] ?? texts[input.name];
    if (input.type === "radio") input.checked = text === undefined ? input.checked : text === input.value;
    else if (text !== undefined && input !== document.activeElement) input.value = text;
    input.closest(".field")?.classList.toggle("typed", input.name in typed);
  }
  arrange(form);
  renew();
}

/** Show the fields that belong to the choices made, and one empty row more than are filled. @param {HTMLFormElement} form */
export function arrange(form) {
  for (const part of /** @type {HTMLElement[]} */ (all("[data-when]", form))) part.hidden = unmet(part, form).length > 0;
  for (const rows of /** @type {HTMLElement[]} */ (all("[data-grows]", form))) {
    const last = all(".row", rows).at(-1);
    if (!last || /** @type {HTMLInputElement[]} */ (all("input", last)).some(({ value }) => value)) grow(rows);
  }
  dress(form);
}

/** One row more, if there is room. @param {HTMLElement} rows */
function grow(rows) {
  const count = all(".row", rows).length;
  if (count >= Number(rows.dataset.most)) return false;
  const html = all("template", rows)[0].innerHTML.replaceAll("{row}", String(count + 1));
  rows.insertAdjacentHTML("beforeend", html);
  return true;
}
