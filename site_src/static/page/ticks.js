// @ts-check
/** Ticks and readings of the build list are kept from the first moment, before its page has its script. */

import { formById } from "./dom.js";
import { isDemo } from "./state.js";
import { beginOwn } from "./store.js";
import { type } from "./typed.js";

/** The name under which entries of the list are kept, as those of a form are. */
export const SLUG = "build";
export const DONE = "1";

/** Keep each entry as it is made, and refresh the page. @param {() => unknown} refresh */
export function keepTicks(refresh) {
  const form = formById(SLUG);
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", ({ target, isTrusted }) => {
    const { name, value, type: kind, checked } = /** @type {HTMLInputElement} */ (target);
    if (!name) return; // a step of one's own that is not added yet
    type(SLUG, name, kind === "checkbox" ? (checked ? DONE : "") : value);
    if (isTrusted && isDemo() && kind === "text" && value.trim()) beginOwn().then(refresh);
    else refresh();
  });
}
