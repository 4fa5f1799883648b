// @ts-check
/** The page: what its fields and buttons do, and how it follows from `state`. */

import { ask } from "./ask.js";
import { PLACES, askNext, forms, knew, question, refresh, tell } from "./answering.js";
import { all, byId, notice, reveal, undo, withdraw } from "./dom.js";
import * as entering from "./entering.js";
import { fill } from "./filling.js";
import * as install from "./install.js";
import { watchOnce } from "./keeping.js";
import { CAR, nameChoices, open, show } from "./moving.js";
import "./printed.js";
import { start } from "./starting.js";
import { isDemo, onState, set, state } from "./state.js";
import { beginOwn, begun, changeSystem, keep, load, save, takeBackLine } from "./store.js";
import { keepTicks } from "./ticks.js";
import { runTimer } from "./timer.js";
import { exchange, known, type } from "./typed.js";
import { tr } from "./words.js";

const root = document.documentElement;
const HANGS = 2_000; // ms; a database that is at hand answers much sooner

const LOST = tr(
  "This browser had cleared what was kept here: the car on screen is kept again; bring the rest back from a backup file.",
);

/** The form of the open page. */
const openForm = () => forms.find(({ id }) => id === open());

const systems = /** @type {HTMLInputElement[]} */ (all(".system input"));

/** What the open form shows. */
const inForm = () => [state.page, state.system, state.car?.demo, ...[state.typed, state.filled, state.origins].map((of) => of[state.page])];
let shown = inForm();

onState(() => {
  root.dataset.engine = state.engine;
  root.dataset.system = state.system;
  root.toggleAttribute("data-own", !isDemo());
  for (const choice of systems) choice.checked = choice.value === state.system;
  const [before, form] = [shown, openForm()];
  shown = inForm();
  if (!form || shown.every((part, n) => part === before[n])) return; // filling takes a slow phone a while
  fill(form);
  nameChoices(form);
});

/** What is said once it is written. */
const WRITTEN = {
  keep: tr("Saved to the car."),
  done: tr("Carried out. What it changed is predicted until you measure it."),
  assume: tr("Usual values stand in for the unknown ones."),
};

const DONE = "done"; // its panel says what was done, and takes it back

/** @param {HTMLFormElement} form @param {keyof typeof WRITTEN} what */
async function write(form, what) {
  const shown = knew[form.id] ?? "";
  const back = await keep((car, at, asked) => ask({ ask: what, form: form.id, ...asked, car, at, shown }), form.id);
  if (what === DONE) await refresh();
  const said = back.again ? tr("Carried out. {again}", { again: back.again }) : WRITTEN[what];
  const card = byId(`${form.id}-answer`);
  const onCard = what === DONE && all("[data-do=undo-done]", card).length;
  if (!onCard) notice(said, back);
  else notice(all(".measure-now", card).length ? "" : back.again && said);
}

/** The page of the car is the car: what is entered there needs no button. @param {HTMLFormElement} form */
async function writeAsTyped(form) {
  withdraw();
  await begun();
  await save(form.id);
  await refresh();
}

/** What stands on every page. @type {import("./answering.js").Actions} */
const actions = {
  ...install.actions,
  ...entering.actions,
  keep: (_, form) => write(form, "keep"),
  done: (_, form) => write(form, "done"),
  assume: (_, form) => write(form, "assume"),
  again: (_, { id }) => askNext(id),
  "save-typed": async () => (await import("./unsaved.js")).saveAll(),
  "undo-done": async ({ dataset: { ids = "" } }) => {
    const said = [];
    for (const id of ids.split(" ")) said.push(await takeBackLine(id));
    notice(said.join(" "));
  },
  learn: async (button, form) => {
    if (open() === form.id) await save(form.id);
    await (await import("./log.js")).actions.learn(button);
  },
  reset: async (_, { id }) => {
    const typed = state.typed[id] ?? {};
    await exchange(id, typed, {});
    notice(tr("Your entries were cleared."), () => exchange(id, {}, typed));
  },
  "begin-own": async () => {
    await beginOwn();
    location.hash = "#car";
  },
  undo,
  print: () => print(),
};

addEventListener("unhandledrejection", (event) => {
  try {
    tell(event.reason);
    event.preventDefault();
  } catch {
    // no sentence of ours: the browser reports it
  }
});

/** Buttons whose action is not done yet. @type {WeakSet<HTMLButtonElement>} */
const running = new WeakSet();
const COUNTED = ["turn", "unit"]; // each touch is a turn more, or goes on to the next unit
const GOES = "open-step"; // changes nothing, so the last deed can still be taken back

document.addEventListener("click", (event) => {
  const from = /** @type {HTMLElement} */ (event.target);
  const button = from.closest("button");
  const { field } = from.dataset;
  if (button) press(button);
  else if (field) {
    event.preventDefault(); // the address stays what it is
    goTo(field);
  } else if (from.closest("a[href^='#']")) notice(""); // it belongs to the page that is left
});

document.addEventListener("submit", (event) => event.preventDefault()); // the button of a form is a button as others

/** Do what a button says, then answer with what it has changed. @param {HTMLButtonElement} button */
async function press(button) {
  const what = button.dataset.do ?? "";
  const action = actions[what] ?? (await PLACES[open()]?.())?.actions[what];
  if (!action || (!COUNTED.includes(what) && running.has(button))) return;
  running.add(button); // pressed twice is done once; disabled, it would lose the cursor
  try {
    await known;
    await begun();
    if (action !== undo && what !== GOES) withdraw();
    await action(button, openForm() ?? forms[0]);
  } finally {
    running.delete(button);
  }
  if (what !== DONE) await refresh();
  if (state.lost) notice(LOST);
  set({ lost: false });
}

/** Put the cursor into a field of the open form. @param {string} field */
function goTo(field) {
  const named = openForm()?.elements.namedItem(field);
  const input = named instanceof RadioNodeList ? named[0] : named;
  if (input instanceof HTMLInputElement) reveal(input), input.focus(), input.select();
}

for (const form of forms) {
  // A step of a key is a trial and no number of one's own: the demo car may be played with.
  form.addEventListener("input", ({ target, isTrusted }) => {
    const { name, value } = /** @type {HTMLInputElement} */ (target);
    type(form.id, name, value);
    const isOwn = isTrusted && value.trim() && isDemo() && /** @type {HTMLInputElement} */ (target).type !== "radio";
    if (isOwn) beginOwn().then(refresh); // and no answer before, in which it stood beside what was invented
    else refresh();
  });
  if (form.id === "car") form.addEventListener("change", ({ isTrusted }) => (isTrusted || !isDemo()) && writeAsTyped(form));
}

for (const choice of systems) {
  choice.addEventListener("change", () => {
    changeSystem(/** @type {System} */ (choice.value));
    refresh();
  });
}

/** @param {string} address */
async function receive(address) {
  if (address.startsWith(`#${CAR}`)) await (await import("./cars.js")).receive(address);
}

addEventListener("hashchange", async () => {
  const address = location.hash;
  show();
  await receive(address).catch(tell);
  await refresh();
});

// A page that the browser had put by: one engine has emptied its fields, others may have gone on.
// Where the database does not answer such a page any more (see db.js), only a new one helps.
addEventListener("pageshow", async ({ persisted }) => {
  if (!persisted) return;
  const form = openForm();
  if (form) fill(form);
  const late = setTimeout(() => location.reload(), HANGS);
  await load().finally(() => clearTimeout(late));
  await refresh();
});

const fromDevice = Boolean(navigator.serviceWorker?.controller); // and nothing has been fetched

runTimer();
keepTicks(refresh);
const address = location.hash;
await start({
  ended: () => watchOnce(),
  then: [
    () => receive(address),
    async () => (await import("./backup.js")).tell(),
    () => Promise.all([import("./readout.js"), import("./folds.js")]),
    async () => fromDevice && (await import("./practice.js")).practise(forms.map(question)),
  ],
});
