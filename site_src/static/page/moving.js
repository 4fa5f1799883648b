// @ts-check
/**
 * Moving about: which page is open, the address of what is on screen, what was used last.
 *
 *   #collar-turns?scope=both&ask=turns  a form with the choices made in it
 *   #collar-turns-pitch                 a field of a form, by its name
 *   #all?find=preload                   the start list and what is looked for
 *   #guides-stroke#measure              in the edition that is one file: a part of a guide
 *
 * A choice changes the address in place, so that one step back leads to the page before and not
 * through every touch.
 */

import { choice, chosen, shownWith, unmet } from "./conditions.js";
import { all, byId, notice, reveal } from "./dom.js";
import { fill, unfold } from "./filling.js";
import { put, recall } from "./local.js";
import { set, state } from "./state.js";
import { remember } from "./store.js";
import { type } from "./typed.js";

const USED = "used";
const SHOWN = 4; // pages under "Last used"
const SITE = document.title;
export const CAR = "car="; // in an address that carries a car
const FIND = "all?find="; // the start list, opened to look for something
/** Where each page was scrolled to. @type {Record<string, number>} */
const tops = {};
/** The page that the address without a name has shown: one step back leads there again. */
let nameless = "";
let byLink = false;
let begun = false; // the page has been shown with what is kept

const search = /** @type {HTMLInputElement} */ (byId("find"));
const finding = () => import("./find.js"); // not needed for the first answer

const pages = /** @type {HTMLElement[]} */ (all("[data-page]"));
/** @type {HTMLFormElement[]} */
const forms = all("form.fields");
const nameOf = (/** @type {Element | null | undefined} */ page) => page?.getAttribute("data-page") ?? "";
const pageOf = (/** @type {string} */ name) => pages.find((page) => nameOf(page) === name);

/** The page that is open. */
export const open = () => state.page;
set({ page: nameOf(all("[data-page].open")[0]) }); // as last.js has left it

/** The title of the window with this page open. */
export const pageTitle = () => [pageOf(state.page)?.querySelector("h1, h2")?.textContent, SITE].filter(Boolean).join(" - ");

/** Where this page is, for other devices; one opened from a file has no address to give. */
export const pageAddress = () => (location.protocol.startsWith("http") ? location.href.split("#")[0] : "");

/** What an address names: the page, an element on it, the choices. @param {string} hash */
function read(hash) {
  const [whole, query = ""] = hash.slice(1).split("?");
  const [id, part] = decoded(whole).split("#");
  const target = fieldAt(id) ?? document.getElementById(id);
  const page = pageOf(id.startsWith(CAR) ? "cars" : id) ?? /** @type {HTMLElement | null | undefined} */ (target?.closest("[data-page]"));
  const inside = page && part ? page.querySelector(`[id="${CSS.escape(part)}"]`) : nameOf(page) === id ? undefined : target;
  return { name: nameOf(page), inside, query: new URLSearchParams(query) };
}

/** The first input of a field that an address names. @param {string} id */
function fieldAt(id) {
  for (const form of forms.filter((one) => id.startsWith(`${one.id}-`))) {
    unfold(form);
    const input = inputAt(form, id.slice(form.id.length + 1));
    if (input) return input;
  }
  return undefined;
}

/** @param {HTMLFormElement} form @param {string} name */
const inputAt = (form, name) => /** @type {HTMLInputElement[]} */ (all("input", form)).find((input) => input.name === name);

/** @param {string} text */
function decoded(text) {
  try {
    return decodeURIComponent(text);
  } catch {
    return text; // no address of ours
  }
}

/** Open the page that the address names, else the one that was open last. @param {boolean} [starting] what is kept is known now */
export function show(starting = false) {
  const { name, inside, query } = read(location.hash);
  const unnamed = location.hash ? state.page : nameless;
  const page = /** @type {HTMLElement} */ (pageOf(name) ?? pageOf(begun ? unnamed : state.last) ?? pages[0]);
  for (const other of pages) other.classList.toggle("open", other === page);
  const wanted = nameOf(page);
  if (!location.hash) nameless = wanted;
  const form = /** @type {HTMLFormElement | null} */ (page.querySelector("form.fields"));
  begun ||= starting;
  set({ page: wanted });
  if (form) unfold(form);
  if (form && begun) {
    choose(form, query);
    if (starting) fill(form);
    nameChoices(form);
  }
  const finds = wanted === "all" && query.has("find");
  page.toggleAttribute("data-finds", finds);
  if (!starting) for (const menu of menus()) menu.open = false; // else it was opened while this device was asked
  markCurrent(finds ? FIND : wanted);
  remember({ last: wanted });
  if (wanted === "all") {
    showUsed();
    if (query.has("find") || search.value) finding().then(({ find }) => find(read(location.hash).query.get("find")));
  } else noteUse(wanted);
  document.title = pageTitle();
  scrollTo(0, byLink || starting ? 0 : (tops[wanted] ?? 0));
  if (inside) goTo(inside);
  else if (!starting && !query.has("find")) focusTitle(page);
  byLink = false;
}

/** Where a screen reader reads on. @param {HTMLElement} page */
function focusTitle(page) {
  const title = /** @type {HTMLElement} */ (page.querySelector("h1, h2") ?? page);
  title.tabIndex = -1;
  title.focus({ preventScroll: true });
}

/** Bring an element into sight, the cursor into a field; say what shows one that is not shown. @param {Element} inside */
function goTo(inside) {
  const part = /** @type {HTMLElement | null} */ (inside.closest("[data-when]"));
  const form = part?.closest("form");
  const missing = part && form ? unmet(part, form) : [];
  let field = /** @type {HTMLElement} */ (inside);
  if (form && missing.length) {
    field = choice(form, missing[0][0]).find(({ checked }) => checked) ?? field;
    notice(shownWith(inside, byId("found").dataset.shown ?? ""));
  } else field = field.closest(".choice")?.querySelector("input:checked") ?? field;
  if (!field.matches("input")) field.tabIndex = -1;
  reveal(field);
  field.focus({ preventScroll: true });
  (field.closest(".field, .choice") ?? field).scrollIntoView({ block: "center" });
}

/** The menus that are open. @returns {HTMLDetailsElement[]} */
const menus = () => all(":is(.pages details, .settings)[open]");

/** Mark the open page in the list of pages. @param {string} name its address there */
function markCurrent(name) {
  for (const link of all(".pages a")) {
    if (link.getAttribute("href") === `#${name}`) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
}

/** The choices whose answers an address holds: those that are no value of the car. @param {HTMLFormElement} form */
const choices = (form) => (form.dataset.choices ?? "").split(" ").filter(Boolean);

/** Make the choices that an address names. @param {HTMLFormElement} form @param {URLSearchParams} query */
function choose(form, query) {
  for (const name of choices(form)) {
    const radio = choice(form, name).find(({ value }) => value === query.get(name));
    if (radio && radio.value !== chosen(form, name)) type(form.id, name, radio.value);
  }
}

/** Let the address name the choices made in the open form. @param {HTMLFormElement} form */
export function nameChoices(form) {
  // Going back changes the address before it is told, and what it leads to is shown after that.
  const shown = location.hash ? read(location.hash).name : nameless;
  if (!begun || form.id !== open() || shown !== form.id) return;
  const made = new URLSearchParams();
  for (const name of choices(form)) {
    const option = chosen(form, name);
    const fieldset = choice(form, name)[0]?.closest("fieldset");
    if (option && fieldset && !unmet(fieldset, form).length) made.set(name, option);
  }
  const address = `#${form.id}${made.size ? `?${made}` : ""}`;
  if (address !== location.hash) history.replaceState(history.state, "", address);
}

const door = (/** @type {string} */ name) => all(`#doors a[href="#${CSS.escape(name)}"]`)[0]?.closest("li");

/** @returns {string[]} */
function used() {
  const names = recall(USED);
  return Array.isArray(names) ? names.filter((name) => typeof name === "string" && door(name)) : [];
}

/** @param {string} name */
function noteUse(name) {
  if (door(name)) put(USED, [name, ...used().filter((other) => other !== name)].slice(0, SHOWN));
}

/** What was used last, at the head of the start list. */
function showUsed() {
  const doors = used().map((name) => /** @type {Node} */ (door(name)?.cloneNode(true)));
  byId("used-doors").replaceChildren(...doors);
  byId("used").hidden = !doors.length;
}

document.addEventListener("click", (event) => {
  const from = /** @type {Element} */ (event.target);
  const link = from.closest('a[href^="#"]');
  byLink = Boolean(link);
  for (const menu of menus())
    if (!menu.contains(from) || link) menu.open = false;
  if (link?.matches(".skip")) {
    event.preventDefault();
    focusTitle(pageOf(open()) ?? pages[0]);
  }
  if (!link?.matches(".finds")) return;
  // Some phones open their keyboard only while they are touched.
  event.preventDefault();
  history.pushState(null, "", link.getAttribute("href"));
  show();
  search.focus();
});

document.addEventListener("keydown", ({ key }) => {
  const [menu] = menus();
  if (key !== "Escape" || !menu) return;
  menu.open = false;
  menu.querySelector("summary")?.focus();
});

addEventListener("scroll", () => (tops[open()] = scrollY), { passive: true });

search.addEventListener("focus", () => finding().then(({ prepare }) => prepare()));
search.addEventListener("input", () => {
  const text = search.value;
  const finds = text || pageOf("all")?.hasAttribute("data-finds");
  history.replaceState(history.state, "", finds ? `#all?${new URLSearchParams({ find: text })}` : "#all");
  finding().then(({ look }) => look());
});
search.form?.addEventListener("submit", () => search.blur()); // makes room for what was found
