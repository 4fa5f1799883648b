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
import { counted, entered, isDemo, isTyped, state, textsOf } from "./state.js";
import { tr } from "./words.js";

/** Put the fields of a form into the page; until then they are text. @param {HTMLFormElement} form */
export function unfold(form) {
  const folded = form.querySelector(":scope > noscript");
  if (folded) form.innerHTML = folded.textContent ?? "";
}

/** Show what was typed, and in the other fields what the last answer gave them. @param {HTMLFormElement} form */
export function fill(form) {
  unfold(form);
  const texts = textsOf({ ...state.filled[form.id], ...counted(form.id) });
  const filled = Object.entries(texts).filter(([, text]) => text);
  for (const rows of /** @type {HTMLElement[]} */ (all("[data-grows]", form))) {
    const mine = filled.filter(([name]) => name.startsWith(`${rows.dataset.grows}.`));
    const needed = Math.max(0, ...mine.map(([name]) => Number(name.split(".")[1])));
    while (all(".row", rows).length < needed && grow(rows));
  }
  for (const input of /** @type {HTMLInputElement[]} */ (all("input", form))) {
    // The page is built with the demo car's values, which are nobody else's.
    const built = input.type === "radio" || isDemo() ? input.defaultValue : "";
    const text = texts[input.name];
    if (input.type === "radio") input.checked = text === undefined ? input.defaultChecked : text === input.value;
    else if (input.value !== (text ?? built)) input.value = text ?? built;
    input.closest(".field")?.classList.toggle("typed", isTyped(form.id, input.name));
    sayOrigin(form, input);
    sayOutdated(form, input);
  }
  arrange(form);
  if (form.id !== "car") unfoldMissing(form);
  renew();
}

/** Folds that were opened for a missing value; whoever closes one has seen it. @type {WeakSet<Element>} */
const opened = new WeakSet();

/** What is missing is not folded away. @param {HTMLFormElement} form */
function unfoldMissing(form) {
  for (const fold of /** @type {HTMLDetailsElement[]} */ (all(".chapter", form))) {
    if (!fold.querySelector(".field.open")) opened.delete(fold);
    else if (!opened.has(fold)) {
      fold.open = true;
      opened.add(fold);
    }
  }
}

/** Fields that a car can fill. @type {WeakSet<Element>} */
const ofCar = new WeakSet();

/** Beside a value: where it comes from, or that nobody knows it. @param {HTMLFormElement} form @param {HTMLInputElement} input */
function sayOrigin({ id }, input) {
  const field = input.closest(".field");
  if (!field || input.type === "radio") return;
  const typed = isTyped(id, input.name);
  const open = state.open[id]?.includes(input.name) && !typed;
  const said = typed ? "" : (state.origins[id]?.[input.name] ?? (open ? tr("not known yet") : ""));
  field.classList.toggle("open", Boolean(open));
  if (field.matches(".car")) ofCar.add(field);
  const usual = !open && Boolean(state.assumed[id]?.includes(input.name));
  field.classList.toggle("usual", usual);
  field.classList.toggle("car", ofCar.has(field) && !open && !usual && (input.value !== "" || typed));
  let place = field.querySelector(":scope > .origin");
  if (!said && !place) return;
  if (!place) {
    place = document.createElement("small");
    place.className = "origin";
    field.append(place);
  }
  if (place.textContent !== said) place.textContent = said;
}

/** Under a field: what was typed there before work that has changed the car. @param {HTMLFormElement} form @param {HTMLInputElement} input */
function sayOutdated({ id }, input) {
  const field = input.closest(".field");
  const text = state.outdated[id]?.includes(input.name) ? state.typed[id]?.[input.name]?.text : undefined;
  field?.querySelector(":scope > .before")?.remove();
  if (!field || !text) return;
  const said = document.createElement("p");
  said.className = "before";
  said.textContent = tr("Typed before the car was changed: {text}", { text });
  const use = document.createElement("button");
  Object.assign(use, { type: "button", textContent: tr("Use it") });
  use.dataset.do = "use-before";
  said.append(" ", use);
  field.append(said);
}

/** Show the fields that belong to the choices made, the rows that are needed, and one empty row more than are filled. @param {HTMLFormElement} form */
function arrange(form) {
  for (const part of /** @type {HTMLElement[]} */ (all("[data-when]", form))) part.hidden = unmet(part, form).length > 0;
  for (const rows of /** @type {HTMLElement[]} */ (all("[data-grows]", form))) {
    while (all(".row", rows).length < Number(rows.dataset.least) && grow(rows));
    const last = all(".row", rows).at(-1);
    if (!last || /** @type {HTMLInputElement[]} */ (all("input", last)).some((input) => holds(form, input))) grow(rows);
  }
  dress(form);
}

/** @param {HTMLFormElement} form @param {HTMLInputElement} input */
const holds = (form, { name, defaultValue }) => Boolean(entered(form.id, name)?.text ?? (isDemo() && defaultValue));

/** One row more, if there is room. @param {HTMLElement} rows */
function grow(rows) {
  const count = all(".row", rows).length;
  if (count >= Number(rows.dataset.most)) return false;
  const html = all("template", rows)[0].innerHTML.replaceAll("{row}", String(count + 1));
  rows.insertAdjacentHTML("beforeend", html);
  return true;
}
