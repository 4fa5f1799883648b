// @ts-check
/** Asks Python what the open page answers, and shows that; where a question fails, its panel says so. */

import { Failure, Refusal, ask, shown } from "./ask.js";
import { Trouble } from "./db.js";
import { all, alter, byId, mark, notice, parsed } from "./dom.js";
import { tune } from "./fields.js";
import { open } from "./moving.js";
import { isDemo, setFilled, state, textsOf, typedAt } from "./state.js";
import { pastLines } from "./store.js";
import { known, settle } from "./typed.js";
import { today, tr } from "./words.js";

/** @type {HTMLFormElement[]} */
export const forms = all("form.fields");
/** @typedef {Record<string, (button: HTMLElement, form: HTMLFormElement) => unknown>} Actions what buttons do */
/**
 * Pages that are no form. Their scripts are not needed for the first answer and come after it.
 * @type {Record<string, () => Promise<{refresh: () => Promise<void>, actions: Actions}>>}
 */
export const PLACES = {
  car: () => import("./share.js"),
  log: () => import("./log.js"),
  build: () => import("./build.js"),
  setups: () => import("./setups.js"),
  cars: () => import("./cars.js"),
  sheet: () => import("./sheet.js"),
};
/** Where they show what Python replies. @type {Record<string, string>} */
const PANELS = { log: "log-top", build: "build-top", setups: "setups-list", cars: "cars-list", sheet: "sheet-paper" };
/** @param {string} page */
const panelOf = (page) => byId(PANELS[page] ?? `${page}-answer`);
const LATE = 400; // ms; from then on a sign says that the answer shown is of the values before
const FRAME = 100; // ms; the longest wait for one
/** @type {Record<string, number>} the newest question of each page; late replies are dropped */
const newest = {};

const DEMO = tr("This is the demo car, invented. Type a number of yours, and your own car begins.");

/** @param {HTMLFormElement} form @returns {Question<"answer">} */
export const question = ({ id }) => ({
  ask: "answer",
  form: id,
  typed: textsOf(state.typed[id]),
  car: state.car,
  system: state.system,
});

/** Whether this page has been asked about since the scripts came. @param {string} page */
export const isAsked = (page) => Boolean(newest[page]);

/** Answer the open page. */
export async function refresh() {
  await known; // before that it would be the demo car's answer
  document.documentElement.classList.remove("waiting");
  const page = open();
  const turn = (newest[page] = (newest[page] ?? 0) + 1);
  const isOld = () => turn !== newest[page]; // the user has typed on
  const form = forms.find(({ id }) => id === page);
  const late = setTimeout(() => state.engine === "live" && sayBefore(page, "late"), LATE);
  const asked = await inPanel(panelOf(page), isOld, async () => {
    if (form) {
      const asked = await answer(form, isOld);
      await (await PLACES[page]?.())?.refresh(); // the page of the car is a form, and more
      return asked;
    }
    if (page in PANELS) awaits(page);
    // First what stands above, so that nothing moves under a thumb afterwards.
    for (const place of /** @type {HTMLElement[]} */ (all(`[data-page="${page}"] > .unsaved`))) await (await import("./unsaved.js")).refresh(place);
    await (await PLACES[page]?.())?.refresh();
    if (page in PANELS && !isOld()) belongs(page);
    sayWhose();
    return undefined;
  });
  clearTimeout(late);
  if (isOld()) return;
  sayBefore(page, asked === TYPING ? TYPING : "");
  if (asked === TYPING) return;
  for (const what of /** @type {const} */ (["doubts", "figures"])) {
    await painted();
    const place = asked && !isOld() && placeOf(what, panelOf(page));
    if (!place) continue;
    await inPanel(place, isOld, async () => {
      const { html } = await ask({ ...asked, ask: what });
      if (isOld()) return;
      place.innerHTML = html;
      place.classList.remove("coming");
      if (what === "doubts") sayHowSurely(place, page);
    });
  }
}

const TYPING = "typing"; // in place of what was asked: the answer waits until the field is left

/** The answer shown is of the values before, for a reason; without one it is no more. @param {string} page @param {"" | "late" | "typing"} why */
function sayBefore(page, why) {
  const panel = panelOf(page);
  if (!panel) return; // a page that answers nothing
  if (why) panel.dataset.before = why;
  else delete panel.dataset.before;
}

for (const form of forms)
  form.addEventListener("focusout", () => panelOf(form.id).dataset.before === TYPING && refresh());

/** A number that is being typed is not scolded before its field is left. @param {HTMLFormElement} form @param {string[]} unfinished */
function isTyping(form, unfinished) {
  const at = document.activeElement;
  return at instanceof HTMLInputElement && at.form === form && unfinished.includes(at.name);
}

/** Beside each instruction to turn: give or take how much. Where of none not even the way is sure, to measure again comes first and nothing is done yet. @param {HTMLElement} numbers @param {string} page */
function sayHowSurely(numbers, page) {
  const card = byId(`${page}-answer`);
  const steps = /** @type {HTMLElement[]} */ (all("[data-step]", numbers));
  const turns = steps.filter(({ textContent }) => textContent);
  const done = /** @type {HTMLElement | null} */ (card.querySelector("[data-do=done]"));
  if (done) done.hidden = turns.length > 0 && turns.every(({ dataset }) => dataset.unsure);
  for (const told of steps) {
    for (const place of all(`[data-of-step="${told.dataset.step}"]`, card)) {
      place.textContent = told.textContent;
      place.classList.toggle("large", Boolean(told.dataset.large));
    }
  }
}

/** A question that fails says so in its panel: the answer before must not pass for its own. @template T @param {HTMLElement} panel @param {() => boolean} isOld @param {() => Promise<T>} work */
async function inPanel(panel, isOld, work) {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof Refusal || error instanceof Failure)) throw error;
    if (isOld()) return undefined;
    const said = document.createElement("p");
    said.className = "caution stop";
    said.textContent = error.message;
    panel.replaceChildren(said);
    panel.classList.remove("waits");
    return undefined;
  }
}

/** When the instruction after one that is done was asked for, by page, ms. @type {Record<string, number>} */
const askedNext = {};
/** The newest line of the log that the answer on a page knew of. @type {Record<string, string>} */
export const knew = {};

/** From now on the page answers with the next instruction, not with the one that was carried out. @param {string} page */
export function askNext(page) {
  askedNext[page] = Date.now();
}

/** What Python has to know to say what was done already. @param {string} page @param {LogEntry[]} lines */
function since(page, lines) {
  const times = Object.values(state.typed[page] ?? {}).map(({ time }) => time);
  const touched = Math.max(askedNext[page] ?? 0, ...times) / 1000;
  return { lines, touched, today: today(), typed_at: typedAt(page) };
}

/** Show the words of an answer; what was asked, where nothing newer has been and no number is half typed. @param {HTMLFormElement} form @param {() => boolean} isOld */
async function answer(form, isOld) {
  const page = form.id;
  await settle(page);
  if (isOld()) return undefined;
  const lines = await pastLines();
  if (isOld()) return undefined;
  const asked = { ...question(form), ...since(page, lines) };
  awaits(page);
  const reply = await ask(asked);
  if (isOld() || asked.system !== state.system) return undefined;
  if (isTyping(form, reply.unfinished)) return TYPING;
  say(page, reply.html);
  knew[page] = lines.at(-1)?.id ?? "";
  belongs(page);
  shown(page, asked);
  sayWhose(reply.rests);
  for (const place of all("[data-known]", form)) place.textContent = reply.rests;
  tune(form, reply.steps);
  setFilled(page, reply.filled, asked.system, reply);
  for (const [chapter, said] of Object.entries(reply.chapters)) all(`[data-chapter="${chapter}"]`, form)[0].textContent = said;
  mark(form, reply.problems, reply.unusual);
  if (state.engine === "starting") performance.mark("first-answer");
  return asked;
}

/** Say an error that has a sentence for the user; raise any other. @param {unknown} error */
export function tell(error) {
  if (!(error instanceof Refusal || error instanceof Failure || error instanceof Trouble)) throw error;
  notice(error.message);
}

/** What is written is on screen; a page that is hidden is not waited for. */
const painted = () =>
  new Promise((resolve) => {
    requestAnimationFrame(() => setTimeout(resolve));
    setTimeout(resolve, FRAME);
  });

/** @typedef {"doubts" | "figures"} Part of an answer that comes after its words */
const CLASSES = { doubts: "doubted", figures: "figures" };

/**
 * Where the numbers of an answer with their ± stand, or its plots, drawings, tables and working.
 * @param {Part} part @param {ParentNode} card
 */
const placeOf = (part, card) => /** @type {HTMLElement | undefined} */ (all(`.${CLASSES[part]}`, card)[0]);

/** Which numbers stand in a place, and in which units. @param {HTMLElement} place */
function numbersIn(place) {
  /** @type {HTMLElement[]} */
  const shown = all("[data-quantity]", place);
  return shown.map(({ dataset: { quantity, unit } }) => `${quantity} ${unit}`).sort().join();
}

/**
 * Show the words of an answer; the figures of the one before stay until the new ones come, and so
 * do its numbers where they are of the same car.
 * @param {string} page @param {string} html
 */
export function say(page, html) {
  const [card, fresh] = [panelOf(page), parsed(html)];
  const [numbers, figures] = [placeOf("doubts", card), placeOf("figures", card)];
  if (figures) placeOf("figures", fresh)?.replaceWith(figures);
  const coming = placeOf("doubts", fresh);
  if (numbers && coming && isOwn(page) && numbersIn(numbers) === numbersIn(coming)) {
    numbers.classList.add("coming");
    coming.replaceWith(numbers);
  }
  alter(card, fresh);
  follow();
}

/** Whose answer each panel shows, by page; the page is built with the demo car's. @type {Record<string, string>} */
const whose = {};

/** @param {string} page */
const isOwn = (page) => (whose[page] ?? "") === state.current;

/** Nothing is shown of another car than the one at work. @param {string} page */
const awaits = (page) => panelOf(page).classList.toggle("waits", !isOwn(page));

/** The panel of a page shows the answer for the car at work. @param {string} page */
export function belongs(page) {
  whose[page] = state.current;
  panelOf(page)?.classList.remove("waits");
}

/** An instruction that has been scrolled away stays in sight as a line. */
function follow() {
  const panel = document.getElementById(`${open()}-answer`);
  const bottom = panel?.querySelector(".now")?.getBoundingClientRect().bottom ?? 0;
  panel?.classList.toggle("away", bottom < 0);
}
addEventListener("scroll", follow, { passive: true });

/** In the head of the page: which car is at work, and what the answer rests on. @param {string} [rests] */
function sayWhose(rests = isDemo() ? tr("invented numbers") : "") {
  const name = state.car ? String(state.car.name) : tr("Demo car");
  byId("whose-name").textContent = name;
  byId("whose-rests").textContent = rests;
  byId("engine-state").textContent = isDemo() ? DEMO : tr("Car: {name}.", { name });
}
