// @ts-check
/**
 * One step up or down from what stands in a field, in whole numbers throughout: no step leaves a
 * trace of binary fractions. The rest of the text (unit, doubt) stays as it was typed.
 *
 * @typedef {{names: string[][], at: number, steps: string[], low: string, signed: boolean, mark: string, parts?: boolean}} Scale
 *   names of all units and the step in each; `at` is the unit meant where none is typed, `low` where
 *   an empty field begins; `mark` is the decimal sign of the page; with `parts` whole numbers go on
 *   to "1 1/4", not to "1.25"
 * @typedef {{over: bigint, under: bigint, minus: string, mark: string, parts: boolean, rest: string, unit: string}} Read
 */

/** @type {Record<string, string>} */
const GLYPHS = { "½": " 1/2", "¼": " 1/4", "¾": " 3/4" };
const NUMBER = /^\s*([+\-−–]?)\s*(?:(?:(\d+)\s+)?(\d+)\s*\/\s*(\d+)|(\d+(?:[.,]\d*)?|[.,]\d+))(?![\d.,/]|[eE][+-]?\d)(.*)$/s;
const REST = /^\s*([^\d\s±+.,−–-][^±+−–-]*?)?\s*(?:(?:±|\+\s*\/?\s*[-−–])[\s\d.,/]+(\D.*)?)?$/s;
const GROUPED = /^[1-9]\d{0,2}[.,]\d{3}$/; // can be read two ways, unless the sign is the page's
const PARTS = [1n, 2n, 4n, 8n, 16n]; // a hand knows these parts of a turn

/** What stands in a field, taken apart; undefined where it is no plain number. @param {string} text @param {string} mark @returns {Read | undefined} */
export function read(text, mark) {
  const plain = text.replace(/[½¼¾]/g, (glyph) => GLYPHS[glyph]).replace(/[\u00a0\u202f]/g, " ");
  const [, sign, whole = "0", part, parts, decimal = "", rest = ""] = NUMBER.exec(plain) ?? [];
  const [found, unit = "", doubted = ""] = REST.exec(rest) ?? [];
  const between = /[.,]/.exec(decimal)?.[0] ?? "";
  if (sign === undefined || found === undefined || (GROUPED.test(decimal) && between !== mark)) return undefined;
  const minus = "-−–".includes(sign) ? sign : "";
  const common = { minus, mark: between || mark, rest, unit: (unit || doubted).trim() };
  if (part === undefined) return { ...common, ...exact(decimal, minus), parts: false };
  if (!BigInt(parts)) return undefined;
  const over = BigInt(whole) * BigInt(parts) + BigInt(part);
  return { ...common, over: minus ? -over : over, under: BigInt(parts), parts: true };
}

/** "12.5" as 125 / 10. @param {string} decimal @param {string} [minus] */
function exact(decimal, minus = "") {
  const [before, after = ""] = decimal.split(/[.,]/);
  const over = BigInt(before + after || "0");
  return { over: minus ? -over : over, under: 10n ** BigInt(after.length) };
}

/** @param {bigint} over @param {bigint} under rounded down */
const floor = (over, under) => over / under - (over % under < 0n ? 1n : 0n);

/** Which of the units a text is in. @param {string} unit @param {Scale} scale */
const place = (unit, { names, at }) =>
  unit ? names.findIndex((some) => some.some((name) => name.toLowerCase() === unit.toLowerCase())) : at;

/** The text one step further, up (1) or down (-1), on the grid of the step; undefined where there is none. @param {string} text @param {Scale} scale @param {1 | -1} way */
export function stepped(text, scale, way) {
  if (!text.trim()) return begun(scale);
  const now = read(text, scale.mark);
  const step = now && scale.steps[place(now.unit === "%" ? "" : now.unit, scale)];
  if (!step) return undefined;
  const by = exact(step);
  const [over, under] = [now.over * by.under, now.under * by.over];
  const count = way > 0 ? floor(over, under) + 1n : -floor(-over, under) - 1n;
  const next = count < 0n && !scale.signed && now.over >= 0n ? 0n : count;
  const parts = now.parts || Boolean(scale.parts && now.under === 1n);
  return written({ ...now, parts, over: next * by.over, under: by.under }, scale.mark);
}

/** Where an empty field begins: at the low end of what is usual. @param {Scale} scale */
function begun({ steps, at, low, mark }) {
  const [by, from] = [exact(steps[at]), exact(low.replace("-", ""), low.startsWith("-") ? "-" : "")];
  const count = -floor(-from.over * by.under, from.under * by.over);
  return written({ over: count * by.over, under: by.under, minus: "", mark, parts: false, rest: "", unit: "" }, mark);
}

/** @param {Read} read @param {string} page the decimal sign of the page */
function written({ over, under, minus, mark, parts, rest }, page) {
  const sign = over < 0n ? minus || "-" : "";
  const size = over < 0n ? -over : over;
  const text = (parts && inParts(size, under)) || inDecimals(size, under, mark);
  return sign + (GROUPED.test(text) ? text.replace(mark, page) : text) + rest;
}

/** @param {bigint} over @param {bigint} under a power of ten @param {string} mark */
function inDecimals(over, under, mark) {
  const places = String(under).length - 1;
  const digits = String(over).padStart(places + 1, "0");
  const after = digits.slice(digits.length - places).replace(/0+$/, "");
  return digits.slice(0, digits.length - places) + (places && after ? mark + after : "");
}

/** "1 1/4"; empty where no such part fits. @param {bigint} over @param {bigint} under */
function inParts(over, under) {
  const parts = PARTS.find((each) => (over * each) % under === 0n);
  if (!parts) return "";
  const [whole, part] = [over / under, ((over % under) * parts) / under];
  return [whole || !part ? `${whole}` : "", part ? `${part}/${parts}` : ""].filter(Boolean).join(" ");
}
