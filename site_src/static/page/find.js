// @ts-check
/**
 * Search over forms, their fields, the parts of the guides and the words. It reads what is there:
 * the page itself, and the guides as this device keeps them, so it needs no network and no Python.
 *
 * @typedef {{name: string, about: string, href: string, rank: number, field?: Element,
 *   plainName: string, asked: string, plain: string}} Entry
 */

import { shownWith, textOf } from "./conditions.js";
import { all, byId } from "./dom.js";
import { fill } from "./filling.js";
import { tr } from "./words.js";

const MOST = 40;
const FORM = 0; // ranks: what stands first among equals
const WORD = 1;
const FIELD = 2;
const PART = 3;
/** By rank, when a whole question is asked: a page answers it sooner than a field. */
const WEIGHT = [1.5, 1, 0.8, 1];
const ENOUGH = 0.45; // of what the words of a question tell
const FEW = 8;
/** Words that tell nothing of what is asked. */
const SMALL = new Set(
  tr("about after again all am an and any are as at be a by can did do does for from get go have how i if in is it its know make many me much my need not of on one or should so that the them then there these they this to too up was what when where which who why will with you").split(" "),
);

const input = /** @type {HTMLInputElement} */ (byId("find"));
const list = byId("found");
/** @type {Entry[]} */
let entries = [];
/** @type {Promise<Entry[]> | undefined} */
let guides;

/** Without case, accents and the like. @param {string} text */
const plain = (text) => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase().replaceAll("ß", "ss");

/** @type {Map<string, string>} */
const letters = new Map();

/** The words of a text, one space between them; kept, because each key that is typed asks again. @param {string} text */
function lettersOf(text) {
  const found = letters.get(text) ?? text.replace(/[^\p{L}\p{N}]+/gu, " ").trim();
  letters.set(text, found);
  return found;
}

/** `asked`: in the words of whoever asks for it. @param {number} rank @param {string} href @param {string} name @param {string} about @param {string} [more] @param {Element} [field] @param {string} [asked] @returns {Entry} */
const entry = (rank, href, name, about, more = "", field = undefined, asked = "") => ({
  name, about, href, rank, field,
  plainName: plain(name), asked: plain(`${name} ${asked}`), plain: plain(`${name} ${about} ${more} ${asked}`),
});

/** Forms and other pages, from the doors to them. */
const doors = () =>
  /** @type {HTMLElement[]} */ (all("#doors a")).map((link) =>
    entry(FORM, link.getAttribute("href") ?? "", textOf(link.querySelector("strong")), textOf(link.querySelector("span")), "", undefined, link.dataset.also),
  );

/** Fields, choices and rows of every form. */
const fields = () => /** @type {HTMLFormElement[]} */ (all("form.fields")).flatMap(fieldsOf);

/** @param {HTMLFormElement} form */
function fieldsOf(form) {
  fill(form); // with the rows that grow
  const title = textOf(form.closest("[data-page]")?.querySelector("h2"));
  return all(".field, .choice", form).flatMap((part) => {
    const input = /** @type {HTMLInputElement | null} */ (part.querySelector("input"));
    const rows = part.closest(".rows");
    if (!input || (rows && part.closest(".row") !== rows.querySelector(".row"))) return []; // each row asks the same
    const label = textOf(part.querySelector("legend, label"));
    const of = rows ? `${textOf(rows.querySelector("legend"))}: ` : "";
    return [entry(FIELD, `#${form.id}-${input.name}`, of + label, title, `${textOf(part)} ${measure(part)}`, part)];
  });
}

/** How a field is measured, which stands elsewhere on the page. @param {Element} part */
const measure = (part) => textOf(document.getElementById(part.querySelector('a[href^="#"]')?.getAttribute("href")?.slice(1) ?? ""));

/** Parts of the guides, each from its heading to the next; words and what they mean. */
async function parts() {
  const links = all("#help .guides a").filter((link) => link.getAttribute("href")?.includes("guides"));
  const read = links.map(async (link) => {
    const href = link.getAttribute("href") ?? "";
    const whole = href.startsWith("#")
      ? byId(href.slice(1))
      : new DOMParser().parseFromString(await (await fetch(href)).text(), "text/html").querySelector("main");
    return whole ? partsOf(whole, href, textOf(link)) : [];
  });
  return (await Promise.allSettled(read)).flatMap((one) => (one.status === "fulfilled" ? one.value : []));
}

/** @param {Element} whole @param {string} href @param {string} title */
function partsOf(whole, href, title) {
  /** @type {{head: Element, text: string[]}[]} */
  const found = [];
  for (const element of all(":scope > *, :scope > dl > *", whole)) {
    if (element.matches("h1, h2, dt")) found.push({ head: element, text: [] });
    // The entries of a form are found as its fields; of a drawing the caption says enough.
    else if (!element.matches("dl, .entries")) found.at(-1)?.text.push(textOf(element.querySelector("figcaption") ?? element));
  }
  return found.map(({ head, text }) => {
    const address = head.id ? `${href}#${head.id}` : href;
    return head.matches("dt")
      ? entry(WORD, address, textOf(head), text.join(" "))
      : entry(PART, address, textOf(head), (list.dataset.guide ?? "").replace("{title}", title), text.join(" "));
  });
}

/** Read what can be found: the page at once, the guides as soon as they are here. */
export function prepare() {
  const here = [...doors(), ...fields()];
  entries = here;
  guides ??= parts();
  guides.then((more) => {
    entries = [...here, ...more];
    if (input.value && !list.contains(document.activeElement)) look(); // not away from under the cursor
  });
}

/** How well an entry answers; nothing where a word is not in it. @param {Entry} entry @param {string[]} words */
function fit({ plainName, asked, plain: whole, rank }, words) {
  const every = (/** @type {string} */ text) => words.every((word) => text.includes(word));
  if (!every(whole)) return undefined;
  const begins = words.some((word) => ` ${asked}`.includes(` ${word}`));
  return (every(plainName) ? 0 : every(asked) ? 1 : 20) + (begins ? 0 : 10) + rank;
}

/** What a word begins with, whatever its ending. @param {string} word */
const stem = (word) => word.slice(0, Math.max(4, word.length - 2));

/** Whether a text has a word: a long one anywhere, a short one as the beginning of a word, or whole. @param {string} text @param {string} word */
function has(text, word) {
  if (word.length > 4) return text.includes(word);
  return ` ${text} `.includes(word.length > 3 ? ` ${word}` : ` ${word} `);
}

/**
 * What answers a whole question best, where little has all of its words: the rarer a word, the more
 * it tells, and in a name half as much again.
 * @param {string[]} words
 */
function nearest(words) {
  const stems = [...new Set(words.map(stem))];
  const read = entries.map((one) => {
    const [name, text] = [lettersOf(one.asked), lettersOf(one.plain)];
    return { one, name, hits: stems.filter((word) => has(text, word)) };
  });
  const worth = new Map(
    stems.map((word) => [word, Math.log((1 + read.length) / (1 + read.filter(({ hits }) => hits.includes(word)).length))]),
  );
  const sum = (/** @type {string[]} */ some) => some.reduce((total, word) => total + (worth.get(word) ?? 0), 0);
  const whole = sum(stems);
  return read
    .map(({ one, name, hits }) => ({ one, share: ((sum(hits) + sum(hits.filter((word) => has(name, word))) / 2) * WEIGHT[one.rank]) / whole }))
    .filter(({ share }) => share >= ENOUGH)
    .sort((a, b) => b.share - a.share)
    .slice(0, FEW)
    .map(({ one }) => one);
}

/** What has all words; where that is little, what answers a question best after it. @param {string} typed */
function foundFor(typed) {
  const words = typed.split(/\s+/);
  const whole = entries
    .map((one) => ({ one, at: fit(one, words) }))
    .filter(({ at }) => at !== undefined)
    .sort((a, b) => Number(a.at) - Number(b.at))
    .map(({ one }) => one);
  const telling = lettersOf(typed).split(" ").filter((word) => word && !SMALL.has(word));
  const asks = words.length > 1 && telling.length > 0 && whole.length < FEW;
  return asks ? [...new Set([...whole, ...nearest(telling)])] : whole;
}

/** Show what is found. */
export function look() {
  const typed = plain(input.value).trim();
  byId("start-list").hidden = Boolean(typed);
  const found = typed ? foundFor(typed) : [];
  list.replaceChildren(...found.slice(0, MOST).map(result));
  byId("find-count").textContent = typed ? count(found.length) : "";
}

/** @param {number} number */
function count(number) {
  const { none = "", some = "", many = "" } = byId("find-count").dataset;
  return (number === 0 ? none : number > MOST ? many : some).replace("{number}", String(number)).replace("{most}", String(MOST));
}

/** @param {Entry} entry */
function result({ name, about, href, field }) {
  const [item, link, strong, span] = ["li", "a", "strong", "span"].map((tag) => document.createElement(tag));
  strong.textContent = name;
  span.textContent = [about, field && condition(field)].filter(Boolean).join(". ");
  link.setAttribute("href", href);
  link.append(strong, " ", span);
  item.append(link);
  return item;
}

/** What shows a field that is not shown, as its form stands. @param {Element} field */
function condition(field) {
  const form = field.closest("form");
  if (form) fill(form);
  return shownWith(field, list.dataset.shown ?? "");
}

/** Look for what an address names; nothing is no search, and an empty text the beginning of one. @param {string | null} text */
export function find(text) {
  if (text !== input.value) input.value = text ?? "";
  prepare();
  look();
  if (text === "") input.focus();
}
