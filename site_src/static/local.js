// @ts-check
/** Small things that this browser remembers; where it remembers nothing, the page works without. */

/** @param {string} name @returns {any} what was put there, undefined where nothing is */
export function recall(name) {
  try {
    return JSON.parse(localStorage.getItem(`damper-bench-${name}`) ?? "null") ?? undefined;
  } catch {
    return undefined; // switched off, or written by something else
  }
}

/** @param {string} name @param {unknown} value @returns {boolean} whether it is remembered */
export function put(name, value) {
  try {
    localStorage.setItem(`damper-bench-${name}`, JSON.stringify(value));
    return true;
  } catch {
    return false; // full or switched off
  }
}
