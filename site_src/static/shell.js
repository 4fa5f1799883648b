// @ts-check
/** The page: shows one form at a time, asks Python what it answers, keeps what was typed. */

import { Refusal, ask, start } from "./ask.js";
import { watch } from "./offline.js";
import { remember, state } from "./store.js";

/** @template {Element} E @param {string} what @param {ParentNode} [within] @returns {E[]} */
const all = (what, within = document) => /** @type {any} */ ([...within.querySelectorAll(what)]);
const root = document.documentElement;
/** @type {HTMLFormElement[]} */
const forms = all("form.fields");
/** @param {string} id */
const byId = (id) => /** @type {HTMLElement} */ (document.getElementById(id));
/** @type {Record<string, number>} the newest question of each page; late replies are dropped */
const newest = {};
/** @type {{car: object | null, typed: Record<string, Record<string, string>>} | undefined} */
let before;

const absolute = (/** @type {string | undefined} */ address) =>
  new URL(address ?? "", document.baseURI).href;

const DEMO = "Demo car, an invention: put yours in under The car.";

/** @param {HTMLFormElement} form */
const question = ({ id }) => ({
  form: id,
  typed: state.typed[id] ?? {},
  car: state.car,
  system: state.system,
});

/** Answer the open page. */
async function refresh() {
  const page = open();
  const turn = (newest[page] = (newest[page] ?? 0) + 1);
  if (page === "sheet") {
    const { html } = await ask({ ask: "sheet", car: state.car, system: state.system, made: root.dataset.made });
    if (turn === newest[page]) byId("sheet-paper").innerHTML = html;
  }
  const form = forms.find(({ id }) => id === page);
  if (!form) return;
  const reply = await ask({ ask: "answer", ...question(form) });
  if (turn !== newest[page]) return; // an older question; the user has typed on
  byId(`${page}-answer`).innerHTML = reply.html;
  byId("engine-state").textContent = reply.demo ? DEMO : "";
  fill(form, reply.filled);
  mark(form, reply.problems);
}

/** Put the car's values in every field that was not typed in. @param {HTMLFormElement} form @param {Record<string, string>} texts */
function fill(form, texts) {
  const typed = state.typed[form.id] ?? {};
  const filled = Object.entries({ ...texts, ...typed }).filter(([, text]) => text);
  for (const rows of /** @type {HTMLElement[]} */ (all("[data-grows]", form))) {
    const mine = filled.filter(([name]) => name.startsWith(`${rows.dataset.grows}.`));
    const needed = Math.max(0, ...mine.map(([name]) => Number(name.split(".")[1])));
    while (all(".row", rows).length < needed && grow(rows));
  }
  for (const input of /** @type {HTMLInputElement[]} */ (all("input", form))) {
    const text = typed[input.name] ?? texts[input.name];
    if (input.type === "radio") input.checked = text === undefined ? input.checked : text === input.value;
    else if (text !== undefined && input !== document.activeElement) input.value = text;
    input.closest(".field")?.classList.toggle("typed", input.name in typed);
  }
  arrange(form);
}

/** A sentence at each field that has a problem. @param {HTMLFormElement} form @param {Record<string, string>} problems */
function mark(form, problems) {
  for (const old of all(".error", form)) old.remove();
  for (const input of /** @type {HTMLInputElement[]} */ (all("input", form))) {
    const sentence = problems[input.name];
    if (!sentence) {
      input.removeAttribute("aria-invalid");
      input.removeAttribute("aria-describedby");
      continue;
    }
    const place = document.createElement("p");
    place.className = "error";
    place.id = `${form.id}-${input.name}-error`;
    place.textContent = sentence;
    input.setAttribute("aria-invalid", "true");
    input.setAttribute("aria-describedby", place.id);
    input.closest(".field, .choice")?.append(place);
  }
}

/** Show the fields that belong to the choices made, and one empty row more than are filled. @param {HTMLFormElement} form */
function arrange(form) {
  const chosen = new FormData(form);
  for (const part of /** @type {HTMLElement[]} */ (all("[data-when]", form))) {
    part.hidden = !part.dataset.when?.split(" ").every((condition) => {
      const [choice, values] = condition.split("=");
      return values.split(",").includes(String(chosen.get(choice)));
    });
  }
  for (const rows of /** @type {HTMLElement[]} */ (all("[data-grows]", form))) {
    const last = all(".row", rows).at(-1);
    if (!last || /** @type {HTMLInputElement[]} */ (all("input", last)).some(({ value }) => value)) grow(rows);
  }
}

/** One row more, if there is room. @param {HTMLElement} rows */
function grow(rows) {
  const count = all(".row", rows).length;
  if (count >= Number(rows.dataset.most)) return false;
  const html = all("template", rows)[0].innerHTML.replaceAll("{row}", String(count + 1));
  rows.insertAdjacentHTML("beforeend", html);
  return true;
}

const open = () => all("[data-page].open")[0].getAttribute("data-page") ?? "";

/** Open the page that the address names, else the one that was open last. */
function show() {
  const pages = all("[data-page]").map((page) => page.getAttribute("data-page") ?? "");
  const wanted = [location.hash.slice(1), state.last, pages[0]].find((name) => name && pages.includes(name));
  for (const page of all("[data-page]")) page.classList.toggle("open", page.getAttribute("data-page") === wanted);
  for (const link of all(".pages a")) {
    if (link.getAttribute("href") === `#${wanted}`) {
      link.setAttribute("aria-current", "page");
      link.scrollIntoView({ block: "nearest", inline: "center" });
    } else link.removeAttribute("aria-current");
  }
  remember({ last: wanted });
  scrollTo(0, 0);
}

/** @param {string} text @param {boolean} [undo] */
function notice(text, undo = false) {
  byId("notice").hidden = !text;
  byId("notice").textContent = text;
  if (!undo) return;
  const button = document.createElement("button");
  button.type = "button";
  button.dataset.do = "undo";
  button.textContent = "Undo";
  byId("notice").append(" ", button);
}

/** @param {HTMLFormElement} form @param {"keep" | "done"} what */
async function write(form, what) {
  const { car, typed } = await ask({ ask: what, ...question(form) });
  before = { car: state.car, typed: state.typed };
  remember({ car, typed: { ...state.typed, [form.id]: typed } });
  notice("Noted in the car.", true);
}

/** What the buttons do. @type {Record<string, (form: HTMLFormElement) => void | Promise<void>>} */
const actions = {
  keep: (form) => write(form, "keep"),
  done: (form) => write(form, "done"),
  reset: (form) => {
    before = { car: state.car, typed: state.typed };
    remember({ typed: { ...state.typed, [form.id]: {} } });
    notice("Typed values taken out.", true);
  },
  undo: () => {
    if (before) remember(before);
    notice("Undone.");
  },
  print: () => print(),
};

addEventListener("unhandledrejection", (event) => {
  if (!(event.reason instanceof Refusal)) return;
  event.preventDefault();
  notice(event.reason.message);
});

document.addEventListener("click", async ({ target }) => {
  const from = /** @type {HTMLElement} */ (target);
  const action = actions[from.closest("button")?.dataset.do ?? ""];
  const form = forms.find(({ id }) => id === open()) ?? forms[0];
  if (action) {
    await action(form);
    await refresh();
  }
  const field = from.dataset.field;
  if (field) setTimeout(() => /** @type {HTMLElement} */ (form.elements.namedItem(field))?.focus?.());
});

for (const form of forms) {
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", ({ target }) => {
    const { name, value } = /** @type {HTMLInputElement} */ (target);
    const saved = remember({
      typed: { ...state.typed, [form.id]: { ...state.typed[form.id], [name]: value } },
    });
    if (!saved) notice("This browser does not let the page remember: what you type is gone when it closes.");
    arrange(form);
    refresh();
  });
}

for (const choice of /** @type {HTMLInputElement[]} */ (all(".system input"))) {
  choice.checked = choice.value === state.system;
  choice.addEventListener("change", async () => {
    const { typed } = await ask({ ask: "convert", all: state.typed, before: state.system, system: choice.value });
    remember({ system: choice.value, typed });
    root.dataset.system = choice.value;
    refresh();
  });
}

addEventListener("hashchange", () => {
  show();
  refresh();
});

const OFFLINE = {
  absent: "This browser cannot keep the page: it needs the network.",
  taking: "Taking everything onto this device ...",
  failed: "Not everything could be taken yet. Not safe to take to the track.",
  safe: "Safe to take to the track: everything is on this device.",
  lost: "Files were lost on this device; taking them again. Not safe to take to the track.",
  update: "A new version is ready.",
};

watch((now, { share, accept }) => {
  const line = byId("offline-state");
  line.textContent = OFFLINE[now] + (share ? ` ${Math.round(share * 100)}%` : "");
  if (!accept) return;
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = "Change to it";
  button.addEventListener("click", accept);
  line.append(" ", button);
});

root.dataset.engine = "starting";
root.dataset.system = state.system;
byId("engine-state").textContent = "Python is starting; the answers are for the demo car until then.";
for (const form of forms) fill(form, {});
show();
try {
  const { runtime, app, image } = root.dataset;
  await start({ runtime: absolute(runtime), app: absolute(app), image: image && absolute(image) });
  await refresh().catch((error) => {
    if (!(error instanceof Refusal)) throw error;
    notice(error.message);
  });
  root.dataset.engine = "live";
  performance.mark("engine-live");
} catch (error) {
  root.dataset.engine = "failed";
  byId("engine-state").textContent =
    "Python did not start on this device, so the answers are the demo car's. Close other pages, then load this one again.";
  console.error(error);
}
