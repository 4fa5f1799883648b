// @ts-check
/** The cheat sheet: its size, what stands on it and in which order, kept for each car. */

import { ask } from "./ask.js";
import { all, byId, formById } from "./dom.js";
import { pageAddress } from "./moving.js";
import { isTyped, state, textsOf } from "./state.js";
import { SLUG as BUILD } from "./ticks.js";
import { exchange, settle, type } from "./typed.js";
import { today } from "./words.js";

const NAME = "sheet-choice";
const form = formById(NAME);
const list = byId("sheet-blocks");
const paper = byId("sheet-paper");
const enlarge = /** @type {HTMLButtonElement} */ (all("[data-do=enlarge]")[0]);
let newest = 0;

export async function refresh() {
  show();
  const turn = ++newest;
  await settle(BUILD);
  const { car, system } = state;
  const { made = "" } = document.documentElement.dataset;
  const build = textsOf(state.typed[BUILD]);
  const { html } = await ask({ ask: "sheet", car, system, made, ...chosen(), build, address: pageAddress(), today: today() });
  if (turn === newest) paper.innerHTML = html;
  fit();
}

const isLarge = () => enlarge.getAttribute("aria-pressed") === "true";

/** Show the sheet whole where the screen is narrower; at its own size it goes sideways. */
function fit() {
  const sheet = /** @type {HTMLElement | null} */ (paper.querySelector(".sheet"));
  if (!sheet) return;
  sheet.style.zoom = "1";
  const share = sheet.clientWidth / sheet.scrollWidth;
  enlarge.hidden = share === 1;
  if (share < 1 && !isLarge()) sheet.style.zoom = String(share);
}
new ResizeObserver(fit).observe(paper);

const sizes = /** @type {HTMLInputElement[]} */ (all("[name=size]", form));
const ticks = () => /** @type {HTMLInputElement[]} */ (all("input", list));
const usual = { size: sizes.find(({ defaultChecked }) => defaultChecked)?.value ?? "", order: (list.dataset.order ?? "").split(" ") };

/** The size, and the blocks on the sheet, in order: as chosen, else as is usual. */
function chosen() {
  const { size = usual.size, blocks } = textsOf(state.typed[NAME]);
  return { size, blocks: blocks?.split(" ").filter(Boolean) ?? usual.order.filter((key) => isUsual(key, kindOf(size))) };
}

/** The kind of paper of a size. @param {string} size */
const kindOf = (size) => sizes.find(({ value }) => value === size)?.dataset.kind ?? "flat";

/** Whether a block stands on that kind of paper unless others are chosen. @param {string} key @param {string} kind */
const isUsual = (key, kind) => itemOf(key)?.dataset.usual?.split(" ").includes(kind) ?? false;

const itemOf = (/** @type {string} */ key) => /** @type {HTMLElement | null} */ (list.querySelector(`[data-block="${key}"]`));

/** Show what is chosen: the blocks on the sheet first, in their order. */
function show() {
  const { size, blocks: keys } = chosen();
  for (const input of sizes) input.checked = input.value === size;
  byId("print-flat").hidden = kindOf(size) === "folded";
  byId("print-folded").hidden = kindOf(size) !== "folded";
  byId("on-sheet").hidden = kindOf(size) === "card";
  byId("on-card").hidden = kindOf(size) !== "card";
  for (const input of ticks()) input.checked = keys.includes(input.value);
  if (!isTyped(NAME, "blocks")) return;
  const items = /** @type {HTMLElement[]} */ (all("li", list));
  const place = (/** @type {HTMLElement} */ { dataset: { block = "" } }) => (keys.indexOf(block) + 1 || 1000);
  const sorted = [...items].sort((a, b) => place(a) - place(b));
  if (sorted.some((item, n) => item !== items[n])) list.append(...sorted);
}

/** Keep which blocks are ticked, in the order in which they stand. */
const keepBlocks = () => type(NAME, "blocks", ticks().filter(({ checked }) => checked).map(({ value }) => value).join(" "));

/** Move a block by one place. @param {HTMLElement} button @param {(item: Element) => void} move */
async function shift(button, move) {
  const item = button.closest("li");
  if (item) move(item);
  button.focus();
  await keepBlocks();
}

form.addEventListener("input", async ({ target }) => {
  const { name, value } = /** @type {HTMLInputElement} */ (target);
  await (name === "size" ? type(NAME, name, value) : keepBlocks());
  await refresh();
});

/** @type {Record<string, (button: HTMLElement) => Promise<unknown>>} */
export const actions = {
  enlarge: async () => {
    enlarge.setAttribute("aria-pressed", String(!isLarge()));
    fit();
  },
  "block-up": (button) => shift(button, (item) => item.previousElementSibling?.before(item)),
  "block-down": (button) => shift(button, (item) => item.nextElementSibling?.after(item)),
  "usual-sheet": async () => {
    await exchange(NAME, state.typed[NAME] ?? {}, {});
    for (const key of usual.order) list.append(...all(`[data-block="${key}"]`, list));
  },
};
