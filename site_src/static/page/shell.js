// @ts-check
/** The page: shows one form at a time, asks Python what it answers, keeps what was typed. */

import { Failure, Refusal, again, ask, shown, up } from "./ask.js";
import { Trouble } from "./db.js";
import { all, byId, mark, notice, undo } from "./dom.js";
import * as entering from "./entering.js";
import { tune } from "./fields.js";
import { arrange, fill, unfold } from "./filling.js";
import * as install from "./install.js";
import { watchOnce } from "./keeping.js";
import { nameChoices, open, show } from "./moving.js";
import { changeSystem, follow, keep, load, restoreUnsaved, retype, state, type } from "./store.js";
import { runTimer } from "./timer.js";
import { tr } from "./words.js";

const root = document.documentElement;
/** @type {HTMLFormElement[]} */
const forms = all("form.fields");
/** @typedef {Record<string, (button: HTMLElement, form: HTMLFormElement) => unknown>} Actions what buttons do */
/**
 * Pages that are no form. Their scripts are not needed for the first answer and come after it.
 * @type {Record<string, () => Promise<{refresh: () => Promise<void>, actions: Actions}>>}
 */
const PLACES = {
  log: () => import("./log.js"),
  setups: () => import("./setups.js"),
  cars: () => import("./cars.js"),
  sheet: () => import("./sheet.js"),
};
const FRAME = 100; // ms; the longest wait for one
const LINK = "#car="; // an address that carries a car
/** @type {Record<string, number>} the newest question of each page; late replies are dropped */
const newest = {};

const DEMO = tr("Invented demo car; yours goes in The car.");

const LOST = tr(
  "This browser had cleared what was kept here: the car on screen is kept again; bring the rest back from a backup file.",
);

/** @param {HTMLFormElement} form @returns {Question<"answer">} */
const question = ({ id }) => ({
  ask: "answer",
  form: id,
  typed: state.typed[id] ?? {},
  car: state.car,
  system: state.system,
});

/** Answer the open page. */
async function refresh() {
  const page = open();
  const turn = (newest[page] = (newest[page] ?? 0) + 1);
  await (await PLACES[page]?.())?.refresh();
  const form = forms.find(({ id }) => id === page);
  if (!form) return sayWhose();
  const asked = question(form);
  const reply = await ask(asked);
  if (turn !== newest[page]) return; // an older question; the user has typed on
  say(page, reply.html);
  shown(page, asked);
  sayWhose();
  tune(form, reply.steps);
  fill(form, reply.filled);
  nameChoices(form);
  mark(form, reply.problems);
  if (root.dataset.engine === "starting") performance.mark("first-answer");
  await painted();
  if (turn !== newest[page] || !figures(page)) return;
  const { html } = await ask({ ...asked, ask: "figures" });
  if (turn === newest[page]) figures(page).innerHTML = html;
}

/** What is written is on screen; a page that is hidden is not waited for. */
const painted = () =>
  new Promise((resolve) => {
    requestAnimationFrame(() => setTimeout(resolve));
    setTimeout(resolve, FRAME);
  });

/** Where the plots, drawings, tables and working of an answer stand. @param {string} page */
const figures = (page) => all(".figures", byId(`${page}-answer`))[0];

/** Show the words of an answer; the figures of the one before stay until the new ones come. @param {string} page @param {string} html */
function say(page, html) {
  const before = figures(page);
  byId(`${page}-answer`).innerHTML = html;
  if (before) figures(page)?.replaceWith(before);
}

const sayWhose = () => (byId("engine-state").textContent = (state.car?.demo ?? true) ? DEMO : "");

/** @param {HTMLFormElement} form @param {"keep" | "done"} what */
async function write(form, what) {
  const back = await keep((car, at) => ask({ ...question(form), ask: what, car, at }), form.id);
  notice(tr("Noted in the car."), back);
}

/** What stands on every page. @type {Actions} */
const actions = {
  ...install.actions,
  ...entering.actions,
  keep: (_, form) => write(form, "keep"),
  done: (_, form) => write(form, "done"),
  reset: async (_, { id }) => {
    const typed = state.typed[id] ?? {};
    await retype(id, {});
    notice(tr("Typed values taken out."), () => retype(id, typed));
  },
  undo,
  print: () => print(),
};

addEventListener("unhandledrejection", (event) => {
  if (!(event.reason instanceof Refusal || event.reason instanceof Failure || event.reason instanceof Trouble)) return;
  event.preventDefault();
  notice(event.reason.message);
});

document.addEventListener("click", async (event) => {
  const from = /** @type {HTMLElement} */ (event.target);
  const button = from.closest("button");
  const what = button?.dataset.do ?? "";
  const action = actions[what] ?? (await PLACES[open()]?.())?.actions[what];
  const form = forms.find(({ id }) => id === open()) ?? forms[0];
  if (button && action) {
    await action(button, form);
    await refresh();
    if (state.lost) notice(LOST);
    state.lost = false;
  }
  const field = from.dataset.field;
  if (!field) return;
  event.preventDefault(); // the address stays what it is
  /** @type {HTMLElement} */ (form.elements.namedItem(field))?.focus?.();
});

for (const form of forms) {
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", ({ target }) => {
    const { name, value } = /** @type {HTMLInputElement} */ (target);
    type(form.id, name, value);
    arrange(form);
    nameChoices(form);
    refresh();
  });
}

for (const choice of /** @type {HTMLInputElement[]} */ (all(".system input"))) {
  choice.addEventListener("change", async () => {
    const before = state.system;
    const system = /** @type {System} */ (choice.value);
    await changeSystem(system, async (all) => (await ask({ ask: "convert", all, before, system })).typed);
    root.dataset.system = system;
    refresh();
  });
}

/** @param {string} address */
async function receive(address) {
  if (address.startsWith(LINK)) await (await import("./cars.js")).receive(address);
}

addEventListener("hashchange", async () => {
  const address = location.hash;
  show();
  await receive(address);
  await refresh();
});

/** Show the units that are chosen, here or in another window. */
function showSystem() {
  root.dataset.system = state.system;
  for (const choice of /** @type {HTMLInputElement[]} */ (all(".system input"))) choice.checked = choice.value === state.system;
}

const fromDevice = Boolean(navigator.serviceWorker?.controller); // and nothing has been fetched

root.dataset.engine = "starting";
runTimer();
const before = open();
forms.filter(({ id }) => id === before).forEach(unfold);
again?.then(({ html }) => {
  if (newest[before]) return; // what is typed or kept now has been asked about
  say(before, html);
  performance.mark("first-answer");
});
await load().catch((error) => notice(error.message));
await restoreUnsaved();
showSystem();
follow(() => {
  showSystem();
  refresh();
});
const address = location.hash;
byId("engine-state").textContent = root.dataset.last
  ? tr("Python is starting; until then the answer is from last time.")
  : tr("Python is starting; until then the answers are for the demo car.");
show(true);
try {
  const answered = refresh().catch((error) => {
    if (!(error instanceof Refusal || error instanceof Failure)) throw error;
    notice(error.message);
  });
  await Promise.all([up, answered]);
  root.dataset.engine = "live";
  performance.mark("engine-live");
} catch (error) {
  root.dataset.engine = "failed";
  byId("engine-state").textContent = tr(
    "Python did not start on this device, so the answers are the demo car's. Close other pages, then load this one again.",
  );
  console.error(error);
}
watchOnce();
if (root.dataset.engine === "live") {
  await receive(address);
  (await import("./backup.js")).tell();
  await Promise.all([import("./readout.js"), import("./folds.js")]);
}
if (fromDevice) (await import("./practice.js")).practise(forms.map(question));
