// @ts-check
/** Small things that this browser remembers; where it remembers nothing, the page works without. */

/** What was put there, if nobody else wrote it; undefined where nothing is. @template {keyof Remembered} N @param {N} name @returns {Remembered[N] | undefined} */
export function recall(name) {
  try {
    return JSON.parse(localStorage.getItem(`damper-bench-${name}`) ?? "null") ?? undefined;
  } catch {
    return undefined; // switched off, or written by something else
  }
}

/** @template {keyof Remembered} N @param {N} name @param {Remembered[N] | null} value @returns {boolean} whether it is remembered */
export function put(name, value) {
  try {
    localStorage.setItem(`damper-bench-${name}`, JSON.stringify(value));
    return true;
  } catch {
    return false; // full or switched off
  }
}
