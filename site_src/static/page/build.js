// @ts-check
/**
 * The page of the build list. Ticks and readings are kept as typed texts are, each as soon as it is
 * made; the steps are replaced only where the list itself has changed, never under a thumb.
 */

import { ask } from "./ask.js";
import { unmet } from "./conditions.js";
import { all, byId, formById, mark, notice, rewrite } from "./dom.js";
import { fresh, read, under } from "./db.js";
import { state, textsOf } from "./state.js";
import { keep } from "./store.js";
import { AGAIN, DONE, SLUG } from "./ticks.js";
import { start } from "./timer.js";
import { exchange, settle, type } from "./typed.js";
import { hour, tr } from "./words.js";

const form = formById(SLUG);
const list = byId("build-list");
/** The steps as they were last put in place. */
let shown = "";
let asked = 0;

const folds = () => /** @type {HTMLDetailsElement[]} */ (all("details.build-step", list));
const fold = (/** @type {string} */ key) => folds().find(({ dataset }) => dataset.step === key);
const inputs = () => /** @type {HTMLInputElement[]} */ (all("input[name]", form));
const parts = (/** @type {HTMLElement} */ within) => /** @type {HTMLElement[]} */ (all("[data-part]", within));
/** The ticks of a step. @param {string | undefined} key */
const ticks = (key) => inputs().filter(({ name }) => name.startsWith(`tick.${key}.`));

/** The lines of the log that tell of dampers, oldest first. */
const lines = () => {
  const { current } = state;
  return read((tx) => tx.objectStore("log").index("kind").getAll(under(current, "damper")));
};

export async function refresh() {
  const turn = ++asked;
  await settle(SLUG);
  const { car, system, current } = state;
  const texts = textsOf(state.typed[SLUG]);
  const reply = await ask({ ask: "build", car, system, texts, lines: await lines() });
  if (turn !== asked || system !== state.system || current !== state.current) return; // the next one comes
  rewrite(byId("build-records"), reply.records);
  list.dataset.order = reply.order.join(" ");
  const dampers = Object.keys(reply.parts).filter((part) => part.startsWith("top."));
  const top = byId("build-top");
  if (parts(top).map(({ dataset }) => dataset.part).join() !== dampers.join()) top.innerHTML = reply.top;
  const writeParts = (/** @type {HTMLElement} */ within) => {
    for (const place of parts(within)) rewrite(place, reply.parts[place.dataset.part ?? ""]);
  };
  writeParts(top); // first: it says which step is opened
  if (reply.html !== shown) renew(reply.html);
  writeParts(form);
  /** @type {HTMLButtonElement} */ (all('[data-do="build-done"]', form)[0]).disabled = !reply.ready;
  fill();
  mark(form, reply.problems);
}

/** A selector of the element at the cursor, which finds it in the next list. */
function cursor() {
  const { id, name, dataset } = /** @type {HTMLInputElement} */ (list.querySelector(":focus") ?? list);
  if (name) return `[name="${name}"]`;
  return dataset.key ? `[data-do="${dataset.do}"][data-key="${dataset.key}"]` : `[id="${id}"]`;
}

/** The list has changed: put it in place, and keep the open folds, the texts not added yet and the cursor. @param {string} html */
function renew(html) {
  const isFirst = !shown;
  const opened = all("details[open]", list).map(({ id }) => id);
  const begun = /** @type {HTMLInputElement[]} */ (all("[data-own]", list)).map(({ id, value }) => ({ id, value }));
  const at = cursor();
  list.innerHTML = html;
  shown = html;
  if (isFirst) {
    goTo(nextStep(), false);
    /** @type {HTMLDetailsElement} */ (byId("build-which")).open = !inputs().some(({ name }) => name.startsWith("tick.") && state.typed[SLUG]?.[name]?.text);
  }
  for (const id of opened) byId(id)?.setAttribute("open", "");
  for (const { id, value } of begun) byId(id)?.setAttribute("value", value);
  fill();
  /** @type {HTMLElement | null} */ (list.querySelector(at))?.focus({ preventScroll: true });
}

/** The first step that is not done by every damper. */
function nextStep() {
  const next = /** @type {HTMLElement[]} */ (all("[data-to]", byId("build-top"))).map(({ dataset }) => dataset.to);
  return folds().find(({ dataset }) => next.includes(dataset.step))?.dataset.step ?? "";
}

/** Show the entries; a field that somebody is in stays as it is. */
function fill() {
  const texts = textsOf(state.typed[SLUG]);
  for (const input of inputs()) {
    const text = texts[input.name] ?? "";
    if (input.type === "radio") input.checked = text ? input.value === text : input.defaultChecked;
    else if (input.type === "checkbox") {
      input.checked = text === DONE;
      input.toggleAttribute("data-again", text.startsWith(AGAIN));
    } else if (input.value !== text && document.activeElement !== input) input.value = text;
  }
  for (const part of /** @type {HTMLElement[]} */ (all("[data-when]", form))) part.hidden = unmet(part, form).length > 0;
  for (const one of /** @type {HTMLElement[]} */ (all('[data-do="tick-all"]', list)))
    one.setAttribute("aria-checked", String(ticks(one.dataset.key).every(({ checked }) => checked)));
  for (const spot of /** @type {HTMLElement[]} */ (all("[data-mark]", list))) [spot.dataset.now] = (texts[spot.dataset.mark ?? ""] ?? "").split(" ");
}

/** Open a step alone, where a thumb finds it. @param {string} key @param {boolean} [moves] */
function goTo(key, moves = true) {
  const wanted = fold(key);
  if (!wanted) return;
  for (const one of folds()) one.open = one === wanted;
  if (!moves) return;
  wanted.scrollIntoView({ block: "start" });
  /** @type {HTMLElement} */ (all("summary", wanted)[0]).focus({ preventScroll: true });
}

/** Enter several texts as one change. Returns how to take it back. @param {Texts} texts */
async function enter(texts) {
  const { system, typed: { [SLUG]: there = {} } } = state;
  const names = Object.keys(texts).filter((name) => (there[name]?.text ?? "") !== texts[name]);
  const seen = Object.fromEntries(names.filter((name) => there[name]).map((name) => [name, there[name]]));
  const wanted = Object.fromEntries(names.map((name) => [name, { text: texts[name], system, time: Date.now() }]));
  await exchange(SLUG, seen, wanted);
  return () => exchange(SLUG, wanted, seen);
}

/** The letter on a cap when its field was come to. */
let letterBefore = "";
form.addEventListener("focusin", ({ target }) => (letterBefore = /** @type {HTMLInputElement} */ (target).value));
form.addEventListener("change", ({ target }) => {
  const { name, value } = /** @type {HTMLInputElement} */ (target);
  if (name?.startsWith("name.") && value.trim()) letter(name.slice("name.".length), value.trim());
});

/** Ticks and readings go with the letter of their damper: those of the one before wait under its letter, or are where it is now. @param {string} corner @param {string} now */
async function letter(corner, now) {
  const texts = textsOf(state.typed[SLUG]);
  const before = texts[`of.${corner}`] || letterBefore.trim();
  const of = (/** @type {string} */ whose) =>
    Object.keys(texts).filter((name) => /^(tick|read)\./.test(name) && name.endsWith(`.${whose}`) && texts[name]);
  /** @type {Texts} */
  const wanted = { [`of.${corner}`]: now };
  const go = (/** @type {string} */ from, /** @type {string} */ to) => {
    for (const name of of(from)) {
      wanted[name] ??= "";
      wanted[name.slice(0, -from.length) + to] = texts[name];
    }
  };
  const gone = before && before !== now ? of(corner).length : 0;
  if (gone) {
    const at = Object.keys(texts).find((name) => name.startsWith("name.") && name !== `name.${corner}` && texts[name].trim() === before)?.slice("name.".length);
    go(corner, at && !of(at).length ? at : `:${before}`);
  }
  if (!of(corner).length || gone) go(`:${now}`, corner);
  await enter(wanted);
  if (gone)
    notice(
      tr("What was ticked and read stays with {letter}: write {letter} again and it is back. If only the letter has changed, undo.", { letter: before }),
      () => enter({ ...Object.fromEntries(Object.keys(wanted).map((name) => [name, texts[name] ?? ""])), [`of.${corner}`]: now }),
    );
}

const order = () => (list.dataset.order ?? "").split(" ");
const leftOut = () => (state.typed[SLUG]?.out?.text ?? "").split(" ").filter(Boolean);

/** Move a step past the one that is shown beside it. @param {string} key @param {"before" | "after"} where */
async function move(key, where) {
  const seen = folds().map(({ dataset }) => dataset.step ?? "");
  const beside = where === "before" ? seen[seen.indexOf(key) - 1] : seen[seen.indexOf(key) + 1];
  if (!beside) return;
  const others = order().filter((one) => one !== key);
  others.splice(others.indexOf(beside) + (where === "before" ? 0 : 1), 0, key);
  await enter({ order: others.join(" ") });
}

/** Whether a damper that was sent back has a reading of before at this tick, or none that shows that it was done again. @param {HTMLInputElement} tick @param {Texts} texts */
function waits(tick, texts) {
  const [again, ...since] = (texts[tick.name] ?? "").split(" ");
  const readings = /** @type {HTMLInputElement[]} */ (all('[name^="read."]', /** @type {Element} */ (tick.closest(".cell"))));
  return again === AGAIN && !(since.length && readings.every(({ name }) => !texts[name] || since.includes(name.split(".")[1])));
}

/** @type {Record<string, (button: HTMLElement) => unknown>} */
export const actions = {
  "open-step": ({ dataset: { to = "" } }) => goTo(to),
  "tick-all": async ({ dataset: { key, ticked = "", left = "", cleared = "" } }) => {
    const texts = textsOf(state.typed[SLUG]);
    const every = ticks(key);
    const open = every.filter(({ name }) => texts[name] !== DONE);
    const ready = open.filter((tick) => !waits(tick, texts)); // one that was sent back is not swept along
    const wanted = ready.length ? ready : open;
    const names = (wanted.length ? wanted : every).map(({ name }) => name);
    const back = await enter(Object.fromEntries(names.map((name) => [name, wanted.length ? DONE : ""])));
    notice(wanted.length ? (wanted.length < open.length ? left : ticked) : cleared, back);
  },
  "go-back": async ({ dataset: { dampers = "", steps = "", said = "" } }) => {
    const keys = steps.split(" ");
    const names = dampers.split(" ").flatMap((damper) => keys.map((key) => `tick.${key}.${damper}`));
    const back = await enter(Object.fromEntries(names.map((name) => [name, AGAIN])));
    notice(said, back);
    goTo(keys[0]);
  },
  "step-up": ({ dataset: { key = "" } }) => move(key, "before"),
  "step-down": ({ dataset: { key = "" } }) => move(key, "after"),
  "step-out": async ({ dataset: { key = "", said = "" } }) => notice(said, await enter({ out: [...leftOut(), key].join(" ") })),
  "step-in": async ({ dataset: { key = "" } }) => {
    await enter({ out: leftOut().filter((one) => one !== key).join(" ") });
  },
  "step-own": async (button) => {
    const input = /** @type {HTMLInputElement} */ (all("[data-own]", button.closest(".entry") ?? list)[0]);
    const text = input.value.trim();
    if (!text) return notice(tr("A step of your own: nothing was entered; any words will do."));
    const key = `own-${fresh()}`;
    const others = order();
    others.splice(others.indexOf(button.dataset.key ?? "") + 1, 0, key);
    const back = await enter({ [`own.${key}`]: text, order: others.join(" ") });
    input.value = "";
    notice(tr("Added: {step}.", { step: text }), back);
  },
  "build-done": async () => {
    const back = await keep((car, at, { typed, system }) => ask({ ask: "built", car, at, typed, system, given_up: false }), SLUG);
    notice(tr("Written down: the dampers have their records, the car its numbers."), back);
  },
  "build-clear": async () => {
    if (!inputs().some(({ name }) => /^(tick|read)\./.test(name) && state.typed[SLUG]?.[name]?.text)) return notice(tr("Nothing is ticked or read yet."));
    const back = await keep((car, at, { typed, system }) => ask({ ask: "built", car, at, typed, system, given_up: true }), SLUG);
    notice(tr("The readings are in the records of the dampers, all ticks are off."), back);
    /** @type {HTMLDetailsElement} */ (byId("build-again")).open = false;
    goTo(folds()[0].dataset.step ?? "");
  },
  damper: async ({ dataset: { did = "", name = "", corner = "" } }) => {
    const back = await keep(async (car, at) => ask({ ask: "damper", car, at, did, name, corner, lines: await lines() }));
    notice(tr("Noted in the record."), back);
  },
  "build-card": async () => {
    await type("sheet-choice", "size", "build");
    location.hash = "sheet";
  },
  time: ({ dataset: { slot = "", minutes = "" }, textContent }) => {
    for (const one of slot.split(" ")) start(one, Number(minutes));
    const time = hour(Date.now() + Number(minutes) * 60_000);
    notice(tr("{timer}: it runs until {time}, at the top of every page.", { timer: textContent ?? "", time }));
  },
};
