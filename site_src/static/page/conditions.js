// @ts-check
/** Which fields of a form belong to the choices made in it. */

import { all } from "./dom.js";
import { entered } from "./state.js";

/**
 * The conditions of a field that do not hold now, as [name of a choice, values that show it].
 * @param {HTMLElement} part @param {HTMLFormElement} form @returns {[string, string[]][]}
 */
export function unmet(part, form) {
  const conditions = (part.dataset.when ?? "").split(" ").filter(Boolean);
  return conditions
    .map((condition) => condition.split("="))
    .map(([name, values]) => /** @type {[string, string[]]} */ ([name, values.split(",")]))
    .filter(([name, values]) => !values.includes(chosen(form, name) ?? ""));
}

/**
 * A sentence that says which options show a field, made from `pattern` ("... {choice} ... {option} ...");
 * empty where it is shown.
 * @param {Element} field @param {string} pattern
 */
export function shownWith(field, pattern) {
  const part = /** @type {HTMLElement | null} */ (field.closest("[data-when]"));
  const form = part?.closest("form");
  if (!part || !form) return "";
  return unmet(part, form)
    .map(([name, values]) => {
      const radios = choice(form, name);
      const texts = radios.filter(({ value }) => values.includes(value)).map((radio) => textOf(radio.closest("label")));
      const legend = textOf(radios[0]?.closest("fieldset")?.querySelector("legend"));
      return pattern.replace("{choice}", legend).replace("{option}", texts.join(" / "));
    })
    .join(" ");
}

/** The option that is chosen: as typed, as in the car, or as the page was built. @param {HTMLFormElement} form @param {string} name */
export const chosen = (form, name) =>
  entered(form.id, name)?.text ?? choice(form, name).find(({ defaultChecked }) => defaultChecked)?.value;

/** The radio buttons of a choice. @param {HTMLFormElement} form @param {string} name */
export const choice = (form, name) =>
  /** @type {HTMLInputElement[]} */ (all("input[type=radio]", form)).filter((radio) => radio.name === name);

/** @param {Element | null | undefined} element */
export const textOf = (element) => (element?.textContent ?? "").replace(/\s+/g, " ").trim();
