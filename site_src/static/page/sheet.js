// @ts-check
/** The cheat sheet: its size, what stands on it and in which order, kept for each car. */

import { ask } from "./ask.js";
import { all, byId, formById, texts } from "./dom.js";
import { retype, state } from "./store.js";

const NAME = "sheet-choice";
const form = formById(NAME);
const list = byId("sheet-blocks");
let newest = 0;

export async function refresh() {
  show(state.typed[NAME] ?? {});
  const turn = ++newest;
  const { car, system } = state;
  const { made = "" } = document.documentElement.dataset;
  const { html } = await ask({ ask: "sheet", car, system, made, ...chosen(), address: address(), today: today() });
  if (turn === newest) byId("sheet-paper").innerHTML = html;
}

/** The size, and the blocks that are ticked, in order. */
const chosen = () => ({
  size: texts(form).size ?? "", // none is ticked where a size was kept that there is no longer
  blocks: /** @type {HTMLInputElement[]} */ (all("input:checked", list)).map(({ value }) => value),
});

/** Where this page is, for the code to scan; a page opened from a file has no address to give. */
const address = () => (location.protocol.startsWith("http") ? location.href.split("#")[0] : "");

function today() {
  const day = new Date();
  return [day.getFullYear(), day.getMonth() + 1, day.getDate()].map((n) => String(n).padStart(2, "0")).join("-");
}

/** Show what was chosen: the blocks on the sheet first, in their order. @param {Record<string, string>} kept */
function show({ size, blocks }) {
  for (const input of /** @type {HTMLInputElement[]} */ (all("[name=size]", form))) {
    if (size) input.checked = input.value === size;
  }
  if (blocks === undefined) return;
  const keys = blocks.split(" ");
  const items = /** @type {HTMLElement[]} */ (all("li", list));
  const place = (/** @type {HTMLElement} */ { dataset: { block = "" } }) => (keys.indexOf(block) + 1 || 1000);
  const sorted = [...items].sort((a, b) => place(a) - place(b));
  if (sorted.some((item, n) => item !== items[n])) list.append(...sorted);
  for (const input of /** @type {HTMLInputElement[]} */ (all("input", list))) input.checked = keys.includes(input.value);
}

const keep = () => retype(NAME, { size: chosen().size, blocks: chosen().blocks.join(" ") });

/** Move a block by one place. @param {HTMLElement} button @param {(item: Element) => void} move */
async function shift(button, move) {
  const item = button.closest("li");
  if (item) move(item);
  button.focus();
  await keep();
}

form.addEventListener("submit", (event) => event.preventDefault());
form.addEventListener("input", async () => {
  await keep();
  await refresh();
});

/** @type {Record<string, (button: HTMLElement) => Promise<unknown>>} */
export const actions = {
  "block-up": (button) => shift(button, (item) => item.previousElementSibling?.before(item)),
  "block-down": (button) => shift(button, (item) => item.nextElementSibling?.after(item)),
  "usual-sheet": async () => {
    form.reset();
    await retype(NAME, {});
    for (const key of (list.dataset.order ?? "").split(" ")) list.append(...all(`[data-block="${key}"]`, list));
  },
};
