// @ts-check
/**
 * What the page remembers on this device: the system of units, the car, what was typed by form.
 *
 * @typedef {Record<string, string>} Texts name of a field -> what was typed in it
 * @typedef {{system: string, car: object | null, typed: Record<string, Texts>, last: string}} State
 */

const KEY = "damper-bench";

/** @type {State} */
export const state = { system: "metric", car: null, typed: {}, last: "", ...stored() };

/** @returns {Partial<State>} */
function stored() {
  try {
    return JSON.parse(localStorage.getItem(KEY) ?? "{}");
  } catch {
    return {}; // storage is off or damaged: the page works, it only cannot remember
  }
}

/** Take over these parts of the state, and keep them. @param {Partial<State>} part */
export function remember(part) {
  Object.assign(state, part);
  try {
    localStorage.setItem(KEY, JSON.stringify(state));
  } catch {
    return false;
  }
  return true;
}
