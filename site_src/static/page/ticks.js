// @ts-check
/** Ticks and readings of the build list are kept from the first moment, before its page has its script. */

import { all, formById } from "./dom.js";
import { isDemo, state } from "./state.js";
import { beginOwn } from "./store.js";
import { type } from "./typed.js";

/** The name under which entries of the list are kept, as those of a form are. */
export const SLUG = "build";
export const DONE = "1";
/** Of a damper that was sent back; behind it stands what has been read since. */
export const AGAIN = "again";

/** The damper of a reading was sent back: this one counts again. @param {HTMLInputElement} input */
function readAgain(input) {
  const [, reading] = input.name.split(".");
  const { name } = /** @type {HTMLInputElement} */ (all("[type=checkbox]", /** @type {Element} */ (input.closest(".cell")))[0]);
  const tick = state.typed[SLUG]?.[name]?.text ?? "";
  if (tick.startsWith(AGAIN) && !tick.split(" ").includes(reading)) type(SLUG, name, `${tick} ${reading}`);
}

/** Keep each entry as it is made, and refresh the page. @param {() => unknown} refresh */
export function keepTicks(refresh) {
  const form = formById(SLUG);
  form.addEventListener("input", ({ target, isTrusted }) => {
    const { name, value, type: kind, checked } = /** @type {HTMLInputElement} */ (target);
    if (!name) return; // a step of one's own that is not added yet
    type(SLUG, name, kind === "checkbox" ? (checked ? DONE : "") : value);
    if (name.startsWith("read.")) readAgain(/** @type {HTMLInputElement} */ (target));
    if (isTrusted && isDemo() && kind === "text" && value.trim()) beginOwn().then(refresh);
    else refresh();
  });
}
