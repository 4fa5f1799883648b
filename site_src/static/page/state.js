// @ts-check
/**
 * What this window shows: units, the car at work, typed texts, the texts that the car gives the
 * other fields, the open page. It is changed here and nowhere else; the DOM, the address and the
 * data-* attributes follow from it (`onState`) and are never read back.
 *
 * Each text has the units it is meant in beside it, and the time it was typed. So a change of units
 * is one word in the settings, a text is never taken for one in other units, and one that is typed
 * again is told from the one before.
 *
 * @typedef {{engine: "off" | "starting" | "live" | "failed", known: boolean, system: System, last: string, page: string,
 *   current: string, car: Car | null, revision: number, lost: boolean,
 *   typed: Record<string, Entries>, filled: Record<string, Entries>, origins: Record<string, Texts>, assumed: Record<string, string[]>,
 *   open: Record<string, string[]>, outdated: Record<string, string[]>}} State
 *   `known`: this device has said what it keeps; `last` and `page`: the page that was open last, and
 *   the one that is open; `current` and `car` are empty for the demo car; `lost`: the browser had
 *   cleared what this window had kept; `typed` and `filled`: by form and field; `origins`: where the
 *   texts come from that nobody typed; `assumed`: the fields that have what is usual; `open`: those
 *   that nobody knows; `outdated`: those whose texts were typed before work that has changed the car there
 */

/** @type {State} */
export const state = {
  engine: "off",
  known: false,
  system: "metric",
  last: "",
  page: "",
  current: "",
  car: null,
  revision: 0,
  lost: false,
  typed: {},
  filled: {},
  origins: {},
  assumed: {},
  open: {},
  outdated: {},
};

const BUILT = "metric"; // units of the texts that the page is built with

/** @type {(() => void)[]} */
const followers = [];
/** Have `callback` called after each change. @param {() => void} callback */
export const onState = (callback) => followers.push(callback);

/** Whether the car at work is the invented one. */
export const isDemo = () => state.car?.demo ?? true;

/** @param {Partial<State>} part */
export function set(part) {
  Object.assign(state, part);
  for (const callback of followers) callback();
}

/** Replace all typed texts: `forms` by form. A text taken out stays in sight until the answer brings the car's. @param {State["typed"]} forms @param {Partial<State>} [more] changed with it */
export function setTyped(forms, more = {}) {
  const filled = { ...state.filled };
  for (const [form, entries] of Object.entries(state.typed)) {
    const gone = Object.entries(entries).filter(([name]) => !forms[form]?.[name]);
    if (gone.length) filled[form] = { ...filled[form], ...Object.fromEntries(gone) };
  }
  set({ ...more, typed: forms, filled });
}

/** Take the texts that a reply gives the fields not typed in. @param {string} form @param {Texts} texts @param {System} system units of the question @param {{origins?: Texts, assumed?: string[], open?: string[], outdated?: string[]}} [of] */
export const setFilled = (form, texts, system, { origins = {}, assumed = [], open = [], outdated = [] } = {}) =>
  set({
    filled: { ...state.filled, [form]: { ...state.filled[form], ...inUnits(texts, system) } },
    origins: { ...state.origins, [form]: origins },
    assumed: { ...state.assumed, [form]: assumed },
    open: { ...state.open, [form]: open },
    outdated: { ...state.outdated, [form]: outdated },
  });

/** The text of a field with its units; undefined where it is as the page was built. @param {string} form @param {string} name @returns {Entered | undefined} */
export const entered = (form, name) => counted(form)[name] ?? state.filled[form]?.[name];

/** Units of the number that stands in a field of a form. @param {HTMLInputElement} input */
export function systemOf({ name, form, defaultValue }) {
  const { text, system } = entered(form?.id ?? "", name) ?? { text: defaultValue, system: BUILT };
  return text ? system : state.system;
}

/** @param {string} form @param {string} name */
export const isTyped = (form, name) => Boolean(counted(form)[name]);

/** What is typed in a form and tells of the car as it is. @param {string} form @returns {Entries} */
export const counted = (form) =>
  Object.fromEntries(Object.entries(state.typed[form] ?? {}).filter(([name]) => !state.outdated[form]?.includes(name)));

/** Texts that nobody typed. @param {Texts} texts @param {System} system @returns {Entries} */
const inUnits = (texts, system) =>
  Object.fromEntries(Object.entries(texts).map(([name, text]) => [name, { text, system, time: 0 }]));

/** @param {Entries} [entries] @returns {Texts} */
export const textsOf = (entries = {}) => Object.fromEntries(Object.entries(entries).map(([name, { text }]) => [name, text]));

/** Of each text typed in a form its field, when it was typed in s, and the paths of all work undone since. @param {string} form */
export const typedAt = (form) =>
  Object.entries(state.typed[form] ?? {}).map(([name, { time, undone = [] }]) => /** @type {[string, number, string[]]} */ ([name, time / 1000, undone]));
