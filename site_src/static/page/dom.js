// @ts-check
/** Small things that every part of the page uses. */

import { tr } from "./words.js";

/** @template {Element} E @param {string} what @param {ParentNode} [within] @returns {E[]} */
export const all = (what, within = document) => /** @type {E[]} */ ([...within.querySelectorAll(what)]);
/** @param {string} id */
export const byId = (id) => /** @type {HTMLElement} */ (document.getElementById(id));
/** @param {string} id */
export const formById = (id) => /** @type {HTMLFormElement} */ (document.getElementById(id));
/** Open the fold that an element lies in. @param {Element} element */
export const reveal = (element) => element.closest("details")?.setAttribute("open", "");
/** Panels that Python writes again with every answer. */
export const PANELS = ".answer, #log-lines";
const FOLD = "open"; // which a hand has unfolded
/** What stands in a form, by name. @param {HTMLFormElement} form @returns {Record<string, string>} */
export const texts = (form) => Object.fromEntries([...new FormData(form)].map(([name, text]) => [name, String(text)]));
/** Empty a form that was sent; what was typed since stays. @param {HTMLFormElement} form @param {Record<string, string>} sent */
export function clear(form, sent) {
  const now = texts(form);
  for (const input of /** @type {HTMLInputElement[]} */ (all("input", form))) {
    if (now[input.name] !== sent[input.name]) continue;
    if (input.type === "radio") input.checked = input.defaultChecked;
    else input.value = input.defaultValue;
  }
}

/** @param {string} html */
export function parsed(html) {
  const made = document.createElement("template");
  made.innerHTML = html;
  return made.content;
}

/** Let a place read as `html`. @param {Element} place @param {string} html */
export const rewrite = (place, html) => alter(place, parsed(html));

/** Nodes of one kind take each other's place; buttons that do different things do not. @param {Node} node */
const kind = (node) => (node instanceof HTMLButtonElement ? JSON.stringify(node.dataset) : node.nodeName);

/** Blanks that indent a template; a page has none of them as it is built. @param {Node | null} node */
const isIndent = (node) => node instanceof Text && /^\s*\n\s*$/.test(node.data);
/** @param {Node} node */
const inside = (node) => [...node.childNodes].filter((one) => !isIndent(one));
/** A node and the blanks that go with it. @param {ChildNode} node */
const indented = (node) => (isIndent(node.previousSibling) ? [/** @type {ChildNode} */ (node.previousSibling), node] : [node]);

/** Let a place hold what is `fresh`. What is alike at its beginning and its end stays the same elements, so that a finger on a button that is written again meanwhile has pressed it, and nothing unchanged is read aloud again. @param {ParentNode & Node} place @param {Node} fresh */
export function alter(place, fresh) {
  const [was, is] = [inside(place), inside(fresh)];
  const most = Math.min(was.length, is.length);
  let [first, last] = [0, 0];
  while (first < most && kind(was[first]) === kind(is[first])) first++;
  while (last < most - first && kind(was[was.length - 1 - last]) === kind(is[is.length - 1 - last])) last++;
  const ending = was.slice(was.length - last);
  for (const node of was.slice(first, was.length - last).flatMap(indented)) node.remove();
  const before = ending.slice(0, 1).flatMap(indented)[0] ?? null;
  for (const node of is.slice(first, is.length - last).flatMap(indented)) place.insertBefore(node, before);
  for (const [n, node] of [...was.slice(0, first), ...ending].entries()) renew(node, n < first ? is[n] : is[is.length - last + n - first]);
}

/** @param {Node} node @param {Node} now */
function renew(node, now) {
  if (!(node instanceof Element && now instanceof Element)) {
    if (node.nodeValue !== now.nodeValue) node.nodeValue = now.nodeValue;
    return;
  }
  for (const name of node.getAttributeNames()) if (name !== FOLD && !now.hasAttribute(name)) node.removeAttribute(name);
  for (const { name, value } of now.attributes) if (node.getAttribute(name) !== value) node.setAttribute(name, value);
  alter(node, now);
}

const SHOWN = 8_000; // ms
const UNDOES = 15_000; // ms; longer where it can be taken back, and as long as a hand is at it
/** @type {(() => Promise<unknown>) | undefined} */
let takeBack;
let hiding = 0;

/** Say something; with `undo` there is a button that takes it back. @param {string} text @param {() => Promise<unknown>} [undo] */
export function notice(text, undo) {
  takeBack = undo;
  clearTimeout(hiding);
  if (text) hideLater();
  byId("notice").hidden = !text;
  byId("notice").textContent = text;
  if (!undo) return;
  const button = document.createElement("button");
  button.type = "button";
  button.dataset.do = "undo";
  button.textContent = tr("Undo");
  byId("notice").append(" ", button);
}

// On a screen that is touched, the last thing touched stays "hovered" until the next.
const HELD = matchMedia("(hover: hover)").matches ? ":hover, :focus-within" : ":has(:focus-visible)";

/** Messages leave by themselves. */
function hideLater() {
  hiding = setTimeout(() => (byId("notice").matches(HELD) ? hideLater() : notice("")), takeBack ? UNDOES : SHOWN);
}

/** Something else is done now: what would take back the deed before it is not offered any more. */
export const withdraw = () => takeBack && notice("");

byId("notice").addEventListener("click", ({ target }) => {
  if (target === byId("notice")) notice("");
});

// Whoever touches a field needs to see it.
addEventListener("pointerdown", ({ target }) => {
  if (/** @type {Element} */ (target).closest?.(".field")) notice("");
});

/** Take back what the notice tells of. */
export async function undo() {
  const back = takeBack;
  takeBack = undefined;
  await back?.();
  notice(tr("Undone."));
}

/** Tie to a field what is said under it: what is wrong, how it is measured. @param {HTMLInputElement} input */
export function describe(input) {
  const told = all(":is(.error, .odd, .keys p)", input.closest(".field, .choice") ?? input).map(({ id }) => id);
  if (told.length) input.setAttribute("aria-describedby", told.join(" "));
  else input.removeAttribute("aria-describedby");
}

/** Entries that had a sentence when a form was marked last. @type {WeakMap<HTMLFormElement, Record<string, string>>} */
const marked = new WeakMap();

/** A sentence at each field that has a problem, and a quiet one where the number is unusual. @param {HTMLFormElement} form @param {Record<string, string>} problems @param {Record<string, string>} [unusual] */
export function mark(form, problems, unusual = {}) {
  const before = marked.get(form) ?? {};
  marked.set(form, problems);
  for (const old of all(".error, .odd", form)) old.remove();
  for (const input of /** @type {HTMLInputElement[]} */ (all("input", form))) {
    const wrong = problems[input.name];
    const sentence = wrong ?? unusual[input.name];
    if (sentence) {
      const place = document.createElement("p");
      place.className = wrong ? "error" : "odd";
      place.id = `${form.id}-${input.name}-error`;
      place.textContent = sentence;
      input.closest(".field, .choice")?.append(place);
      if (wrong && !before[input.name]) reveal(input); // what is wrong is not folded away, unless by a hand that has seen it
    }
    if (wrong) input.setAttribute("aria-invalid", "true");
    else input.removeAttribute("aria-invalid");
    if (sentence || input.hasAttribute("aria-describedby")) describe(input);
  }
}
