// @ts-check
/** Under the field one is at: keys for a step less and more, how it is measured, what is usual. */

import { ask } from "./ask.js";
import { read, stepped } from "./decimal.js";
import { all, byId, describe } from "./dom.js";
import { dress, howOf, inputOf, ownUnit, sayings, scaleOf } from "./fields.js";
import { entered, isTyped, state, systemOf } from "./state.js";
import { exchange, type } from "./typed.js";

const WAIT = 450; // ms until a key that is held repeats
const PACE = 120; // ms from one step to the next: an answer is ready sooner

const template = /** @type {HTMLTemplateElement} */ (byId("keys"));
const keys = /** @type {HTMLElement} */ (template.content.firstElementChild);
const key = (/** @type {string} */ name) => /** @type {HTMLButtonElement} */ (all(`[data-key=${name}]`, keys)[0]);
const says = /** @type {HTMLElement} */ (all("p", keys)[0]);
/** Fields whose units were gone through: from what, and to what. @type {WeakMap<HTMLInputElement, {first: string, last: string, typed: boolean}>} */
const gone = new WeakMap();
/** Fields in which parts of a whole are written as such. @type {WeakSet<HTMLInputElement>} */
const inParts = new WeakSet();
/** Fields changed by their keys, of which the browser tells no change when they are left. @type {WeakSet<HTMLInputElement>} */
const byKeys = new WeakSet();
let holding = 0;

const here = () => keys.closest(".field");

/** Put the keys under a field; nothing on the screen moves. @param {Element} field */
function place(field) {
  if (!howOf(field)) return;
  if (here() !== field) {
    const before = field.getBoundingClientRect().top;
    const left = here() && inputOf(/** @type {Element} */ (here()));
    picture(false);
    field.append(keys);
    if (left) describe(left);
    scrollBy(0, field.getBoundingClientRect().top - before);
  }
  renew();
  inSight();
}

/** Bring the keys out from under the keyboard or the edge, but not the field under the answer. */
function inSight() {
  const field = here();
  if (!field) return;
  const { offsetTop = 0, height = innerHeight } = visualViewport ?? {};
  const covered = parseFloat(getComputedStyle(document.documentElement).scrollPaddingBottom) || 0;
  const under = says.getBoundingClientRect().bottom - offsetTop - Math.min(height, innerHeight - covered);
  const answer = field.closest("[data-page]")?.querySelector(".brief")?.getBoundingClientRect().bottom ?? 0;
  const room = field.getBoundingClientRect().top - Math.max(0, answer);
  if (under > 0 && room > 0) scrollBy(0, Math.min(under, room));
}

/** Say in the keys what holds for their field now. */
export function renew() {
  const field = here();
  const how = field && howOf(field);
  if (!field || !how) return;
  const scale = scaleOf(field);
  const { form, name: own } = inputOf(field);
  const typed = isTyped(form?.id ?? "", own);
  const whose = typed ? "typed" : ["car", "usual"].find((one) => field.classList.contains(one));
  const from = whose && says.dataset[whose];
  const told = [...sayings(how), from].filter(Boolean).join(" ");
  if (says.textContent !== told) says.textContent = told;
  for (const name of ["down", "up", "letters"]) key(name).hidden = !scale;
  key("sign").hidden = !scale?.signed;
  key("back").hidden = !typed || !field.matches(".car, .usual");
  key("drawing").hidden = !how.dataset.drawing;
  describe(inputOf(field));
  if (!scale) return;
  const named = ownUnit(field, scale).toLowerCase();
  const unit = scale.names.findIndex((names) => names.some((name) => name.toLowerCase() === named));
  const step = (scale.steps[named ? unit : scale.at] ?? "").replace(".", scale.mark);
  for (const name of ["down", "up"]) all("span", key(name))[0].textContent = step;
}

/** @param {boolean} open show where to measure */
function picture(open) {
  for (const old of all("img", keys)) old.remove();
  key("drawing").setAttribute("aria-expanded", String(open));
  const name = open && here() && howOf(/** @type {Element} */ (here()))?.dataset.drawing;
  if (name) keys.append(all("img", byId(`drawing-${name}`))[0].cloneNode());
}

/** @param {HTMLInputElement} input @param {string | undefined} text as if it had been typed */
function enter(input, text) {
  if (text === undefined || text === input.value) return;
  input.value = text;
  input.dispatchEvent(new Event("input", { bubbles: true }));
  byKeys.add(input);
}

/** @param {Element} field @param {1 | -1} way */
function step(field, way) {
  const scale = scaleOf(field);
  if (!scale) return;
  const input = inputOf(field);
  const now = read(input.value, scale.mark);
  if (now?.parts) inParts.add(input);
  else if (now?.under !== 1n) inParts.delete(input);
  enter(input, stepped(input.value, { ...scale, parts: inParts.has(input) }, way));
}

/** What the keys do. @type {Record<string, (field: Element, input: HTMLInputElement) => void>} */
const KEYS = {
  down: (field) => step(field, -1),
  up: (field) => step(field, 1),
  sign: (_, input) => enter(input, /^\s*[-−–]/.test(input.value) ? input.value.replace(/[-−–]/, "") : `-${input.value.trimStart()}`),
  letters: (_, input) => {
    input.inputMode = input.inputMode === "text" ? "decimal" : "text";
    input.blur(); // a phone changes its keyboard only when it comes up
    input.focus();
  },
  drawing: () => picture(key("drawing").getAttribute("aria-expanded") === "false"),
};

/** @param {HTMLInputElement} input take out what is typed in it */
async function takeOut(input) {
  const form = input.form?.id ?? "";
  const typed = state.typed[form]?.[input.name];
  if (typed) await exchange(form, { [input.name]: typed }, {});
}

/** Go on to the next unit, unless it was typed on meanwhile. @param {HTMLElement} button */
async function nextUnit(button) {
  const input = inputOf(/** @type {Element} */ (button.closest(".field")));
  const { system, car } = state;
  if (systemOf(input) !== system) return; // the answer that brings it is on its way
  const [form, name] = [input.form?.id ?? "", input.name];
  const now = () => entered(form, name)?.text ?? input.defaultValue;
  const text = now();
  const past = gone.get(input);
  const { first, typed } = past?.last === text ? past : { first: text, typed: isTyped(form, name) };
  const reply = await ask({ ask: "unit", form, name, text, first, car, system });
  if (now() !== text || state.system !== system || reply.text === text) return;
  gone.set(input, { first, typed, last: reply.text });
  if (reply.text === first && !typed) await takeOut(input);
  else await type(form, name, reply.text);
}

/** What was typed before work that has changed the car is meant all the same. @param {HTMLElement} button */
function useBefore(button) {
  const { form, name } = inputOf(/** @type {Element} */ (button.closest(".field")));
  return type(form?.id ?? "", name, state.typed[form?.id ?? ""][name].text);
}

/** @type {Record<string, (button: HTMLElement) => Promise<void>>} */
export const actions = { unit: nextUnit, "use-before": useBefore, "take-out": () => takeOut(inputOf(/** @type {Element} */ (here()))) };

visualViewport?.addEventListener("resize", inSight);

/** The field that a touch has just come to. @type {EventTarget | null} */
let fresh = null;

document.addEventListener("focusin", ({ target }) => {
  const field = /** @type {Element} */ (target).closest(".field");
  fresh = field ? target : null;
  if (field && target === inputOf(field)) place(field);
});

document.addEventListener("focusout", ({ target, relatedTarget }) => {
  const field = /** @type {Element} */ (target).closest(".field");
  if (!field || field.contains(/** @type {Node | null} */ (relatedTarget))) return;
  const input = inputOf(field);
  if (byKeys.delete(input)) input.dispatchEvent(new Event("change", { bubbles: true }));
});

// What is typed takes the place of what stands there; a second touch sets the cursor.
document.addEventListener("click", ({ target }) => {
  if (target === fresh && target instanceof HTMLInputElement && target.selectionStart === target.selectionEnd) target.select();
  fresh = null;
});

/** Go on to the field after this one; after the last, to the answer, or to what leads to the next step of a list. @param {HTMLInputElement} input */
function goOn(input) {
  const step = input.closest(".build-step");
  const inputs = /** @type {HTMLInputElement[]} */ (all(".field input", step ?? input.form ?? document)).filter((one) => one.checkVisibility());
  const next = inputs[inputs.indexOf(input) + 1];
  if (next) next.focus(), next.select();
  else if (step) /** @type {HTMLElement | null} */ (step.querySelector(".go button"))?.focus();
  else input.blur(), scrollTo(0, 0);
}

/** The keyboard stops at a field's entry and once at its buttons; the arrows go through these. @param {HTMLElement} from @param {Element} field @param {1 | -1} way */
function goAlong(from, field, way) {
  const buttons = /** @type {HTMLElement[]} */ (all("a, button", field)).filter((one) => one.checkVisibility());
  buttons[(buttons.indexOf(from) + way + buttons.length) % buttons.length].focus();
}

document.addEventListener("keydown", (event) => {
  const field = /** @type {Element} */ (event.target).closest(".field");
  if (field && event.target !== inputOf(field) && ["ArrowLeft", "ArrowRight"].includes(event.key)) {
    event.preventDefault();
    return goAlong(/** @type {HTMLElement} */ (event.target), field, event.key === "ArrowRight" ? 1 : -1);
  }
  if (event.key === "Enter" && field && event.target === inputOf(field) && inputOf(field).form?.matches(".fields, .build")) {
    event.preventDefault();
    return goOn(inputOf(field));
  }
  const way = event.key === "ArrowUp" ? 1 : event.key === "ArrowDown" ? -1 : 0;
  if (!way || !field || event.target !== inputOf(field) || !scaleOf(field)) return;
  event.preventDefault();
  step(field, way);
});

document.addEventListener("input", ({ target }) => {
  const field = /** @type {Element} */ (target).closest?.(".field");
  if (field) dress(/** @type {ParentNode} */ (field.parentNode));
  if (field === here()) renew();
});

document.addEventListener("click", (event) => {
  const link = /** @type {Element} */ (event.target).closest(".field > a");
  const field = link?.closest(".field");
  if (!field || !howOf(field)) return;
  event.preventDefault();
  if (here() === field) return keys.remove();
  place(field);
  picture(!key("drawing").hidden);
});

// A press acts at once and repeats; a click without a press is a keyboard's or a screen reader's.
keys.addEventListener("pointerdown", ({ target, button }) => {
  const name = /** @type {Element} */ (target).closest("button")?.dataset.key ?? "";
  const field = here();
  if (button || !field || !["down", "up"].includes(name)) return;
  const act = () => KEYS[name](field, inputOf(field));
  clearTimeout(holding);
  const again = () => {
    act();
    holding = setTimeout(again, PACE);
  };
  act();
  holding = setTimeout(again, WAIT);
});
for (const end of ["pointerup", "pointercancel", "blur"]) addEventListener(end, () => clearTimeout(holding));
keys.addEventListener("mousedown", (event) => event.preventDefault()); // the cursor stays in the field
keys.addEventListener("contextmenu", (event) => event.preventDefault());
keys.addEventListener("click", ({ target, detail }) => {
  const name = /** @type {Element} */ (target).closest("button")?.dataset.key ?? "";
  const field = here();
  if (field && KEYS[name] && !(detail && ["down", "up"].includes(name))) KEYS[name](field, inputOf(field));
});
