// @ts-check
/**
 * What the page knows of each field without asking Python: its kind, units, steps and how it is
 * measured stand once in the page, and the field points there.
 *
 * @typedef {import("./decimal.js").Scale} Scale
 */

import { read } from "./decimal.js";
import { all, byId } from "./dom.js";
import { onState, state, systemOf } from "./state.js";

const root = document.documentElement;
const SWITCH = "⇄"; // in place of the unit where the text brings its own
/** Steps of the user's own tools, by form and field. @type {Record<string, Record<string, string[]>>} */
const own = {};
const KINDS = Object.fromEntries(
  (/** @type {HTMLElement | undefined} */ (all("[data-kinds]")[0])?.dataset.kinds ?? "").split(";").map((each) => {
    const [kind, imperial, units] = each.split(":");
    return [kind, { imperial: Number(imperial), names: (units ?? "").split("|").map((names) => names.split(",")) }];
  }),
);

/** @param {Element} field @returns {HTMLInputElement} */
export const inputOf = (field) => /** @type {HTMLInputElement} */ (field.querySelector("input"));

/** @type {WeakMap<Element, HTMLElement | undefined>} */
const hows = new WeakMap();

/** How it is measured; undefined where there is nothing to say. In rows the first one says it for all. @param {Element} field @returns {HTMLElement | undefined} */
export function howOf(field) {
  if (hows.has(field)) return hows.get(field);
  const row = field.closest(".row");
  const first = row?.closest(".rows")?.querySelector(".row");
  const one = row && first ? first.querySelectorAll(".field")[all(".field", row).indexOf(field)] : field;
  const link = /** @type {HTMLAnchorElement | null | undefined} */ (one?.querySelector(":scope > a"));
  const how = link ? byId(link.hash.slice(1)) : undefined;
  hows.set(field, how);
  return how;
}

/** The sentences of it in the units shown: how to measure, what is usual. @param {HTMLElement} how */
export function sayings(how) {
  const usual = all(":scope > :is(b, i)", how.parentElement ?? how);
  return [how.textContent, (usual[state.system === "imperial" ? 1 : 0] ?? usual[0])?.textContent];
}

/** @type {WeakMap<Element, {names: string[][], imperial: number, steps: string[], lows: string[], signed: boolean}>} */
const ranges = new WeakMap();

/** @param {HTMLElement} range */
function rangeOf(range) {
  const { kind = "", steps = "", low = "", signed } = range.dataset;
  const read = { ...KINDS[kind], steps: steps.split(" "), lows: low.split(" "), signed: signed !== undefined };
  ranges.set(range, read);
  return read;
}

/** What a number can be stepped by; undefined for a text. @param {Element} field @returns {Scale | undefined} */
export function scaleOf(field) {
  const range = howOf(field)?.parentElement;
  if (!range?.dataset.kind) return undefined;
  const { names, imperial, steps, lows, signed } = ranges.get(range) ?? rangeOf(range);
  const input = inputOf(field);
  const inches = (input.form?.matches(".fields") ? systemOf(input) : state.system) === "imperial";
  return {
    names,
    at: inches ? imperial : 0,
    steps: own[input.form?.id ?? ""]?.[input.name] ?? steps,
    low: lows[inches ? 1 : 0],
    signed,
    mark: root.dataset.decimal ?? ".",
  };
}

const BARE = /^[\d\s.,+\-−–]*$/; // no unit in it: most texts

/** The unit that stands in the text itself; empty where the page's is meant. @param {Element} field @param {Scale} scale */
export function ownUnit(field, { mark }) {
  const { value } = inputOf(field);
  return BARE.test(value) ? "" : (read(value, mark)?.unit.replace("%", "") ?? "");
}

// Characters that fit beside a unit: of the large digits, and of the others.
const LARGE = 5;
const BESIDE = 7;

/** Take the steps of the user's tools. @param {HTMLFormElement} form @param {Record<string, string[]>} steps */
export const tune = (form, steps) => (own[form.id] = steps);

/** Give every field of a form what needs a script: a name to go to, a number pad, a unit to press. @param {ParentNode} within */
export function dress(within) {
  for (const field of all(".field", within)) {
    const input = inputOf(field);
    input.id ||= `${input.form?.id}-${input.name}`;
    if (input.form?.matches(".fields")) input.enterKeyHint ||= "next";
    const asks = field.querySelector(":scope > a:not([aria-label])"); // on screen a question mark is enough
    asks?.setAttribute("aria-label", `${byId("asked-title").textContent}: ${field.querySelector("label")?.textContent}`);
    const scale = scaleOf(field);
    if (!scale) continue;
    input.inputMode ||= "decimal";
    let unit = /** @type {HTMLElement | null} */ (field.querySelector(":scope > :is(i, .unit)"));
    if (!unit) continue;
    if (unit.localName === "i" && scale.names.length > 1 && input.form?.matches(".fields")) unit.replaceWith((unit = button(unit, !asks && !field.querySelector(":scope > a"))));
    const named = ownUnit(field, scale);
    field.classList.toggle("named", Boolean(named));
    field.classList.toggle("long", input.value.length > LARGE);
    field.classList.toggle("wide", Boolean(named) || input.value.length > BESIDE);
    const shown = named && unit.localName === "button" ? SWITCH : scale.names[scale.at][0];
    if (unit.textContent !== shown) unit.textContent = shown;
  }
}

/** @param {HTMLElement} unit @param {boolean} alone no other button of the field is stopped at */
function button(unit, alone) {
  const made = document.createElement("button");
  Object.assign(made, { type: "button", className: "unit", textContent: unit.textContent, title: byId("asked").dataset.unit });
  made.dataset.do = "unit";
  made.tabIndex = alone ? 0 : -1;
  return made;
}

/** Forms that are not filled; the others are dressed as they are. */
const others = /** @type {HTMLFormElement[]} */ (all("form:not(.fields)"));
let system = "";

/** One form at a time: all at once would keep a slow phone from answering a touch. */
function dressOthers() {
  if (system !== state.system) for (const form of others) setTimeout(dress, 0, form);
  system = state.system;
}
onState(dressOthers);
dressOthers();
