// @ts-check
/**
 * What the scripts say, in the language of the page: English stands in the scripts, the page brings
 * its words for it.
 */

const { lang } = document.documentElement;
/** @type {Record<string, string>} */
const words = JSON.parse(document.getElementById("words")?.textContent ?? "{}");

/** A sentence in the language of the page, its {parts} filled in. @param {string} english @param {Record<string, string | number>} [parts] */
export const tr = (english, parts = {}) =>
  (words[english] || english).replace(/\{(\w+)\}/g, (whole, name) => String(parts[name] ?? whole));

/** The language of the page, as the device has it where it speaks it. */
const locale = navigator.languages.find((one) => one.split("-")[0] === lang) ?? lang;

/** The day on this device's calendar, as 2031-05-24; in the evening that of Greenwich may be a day on. @param {number} time ms since 1970 */
export function day(time) {
  const at = new Date(time);
  return [at.getFullYear(), at.getMonth() + 1, at.getDate()].map((n) => String(n).padStart(2, "0")).join("-");
}
export const today = () => day(Date.now());
/** @param {number} time ms since 1970 */
export const hour = (time) => new Date(time).toLocaleTimeString(locale, { hour: "2-digit", minute: "2-digit", hourCycle: "h23" });
