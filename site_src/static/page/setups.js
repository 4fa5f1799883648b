// @ts-check
/** The page of the set-ups: save, find, compare, copy, delete, go back to one. */

import { ask } from "./ask.js";
import { all, byId, clear, formById, mark, notice, parsed, texts } from "./dom.js";
import { change, fresh, patchPage, put, read, Stale } from "./db.js";
import { state } from "./state.js";
import { keep, load, remove, succeed } from "./store.js";
import { inTurn, moveIn } from "./typed.js";
import { today, tr } from "./words.js";

/** @type {Store[]} */
const BOTH = ["setups", "setup_cars"];
const form = formById("setups-save");
const search = /** @type {HTMLInputElement} */ (byId("setups-search"));

/** The set-ups of the car at work, without their cars, the newest first. */
async function heads() {
  const stored = await read((tx) => tx.objectStore("setups").getAll());
  const mine = stored.filter(({ owner }) => owner === state.current);
  return mine.sort((one, other) => other.date.localeCompare(one.date) || other.changed - one.changed);
}

/** @param {string} id */
const whole = (id) =>
  read(async (tx) => ({
    head: /** @type {SetupHead} */ (await tx.objectStore("setups").get(id)), // lists follow other windows
    car: /** @type {Car} */ ((await tx.objectStore("setup_cars").get(id))?.car),
  }));

const FIRST = 40;
/** What stands in the list. */
let shown = "";
/** The day that was put in. */
let given = "";

export async function refresh() {
  putDay();
  const list = await heads();
  const now = JSON.stringify([list, state.system]);
  if (now !== shown) {
    const html = await lines(list.slice(0, FIRST));
    if (now !== shown) await write(html, list.slice(FIRST), now); // nor did another one write it meanwhile
  }
  find();
}

/** Write the list; what is ticked by now stays so. The rest of a long list comes when its beginning is on screen. @param {string} html @param {SetupHead[]} rest @param {string} now */
async function write(html, rest, now) {
  const ids = picked();
  shown = now;
  byId("setups-list").replaceChildren(ticked(html, ids));
  if (!rest.length) return;
  await new Promise((done) => setTimeout(done));
  const more = await lines(rest);
  if (now === shown) byId("setups-list").append(ticked(more, ids));
}

/** Lines with the ticks of these set-ups. @param {string} html @param {string[]} ids */
function ticked(html, ids) {
  const made = parsed(html);
  for (const input of /** @type {HTMLInputElement[]} */ (all("input", made))) input.checked = ids.includes(input.value);
  return made;
}

/** Today, where no other day was entered. */
function putDay() {
  const day = /** @type {HTMLInputElement} */ (form.elements.namedItem("date"));
  if (!day.value.trim() || day.value === given) day.value = given = today();
}

/** @param {SetupHead[]} list */
async function lines(list) {
  const heads = list.map(({ id, name, date, surface, temperature, note }) => ({ id, name, date, surface, temperature, note }));
  return (await ask({ ask: "setups", heads, system: state.system })).html;
}

/** Only the set-ups with all the words that are looked for. */
function find() {
  const words = search.value.toLowerCase().split(/\s+/);
  for (const line of /** @type {HTMLElement[]} */ (all("li.kept", byId("setups-list")))) {
    const text = line.querySelector("label")?.textContent?.toLowerCase() ?? "";
    line.hidden = !words.every((word) => text.includes(word));
  }
  picked();
}

/** The ticked set-ups; what can be done with so many can be touched. @returns {string[]} */
function picked() {
  const ids = /** @type {HTMLInputElement[]} */ (all("input:checked", byId("setups-list"))).map(({ value }) => value);
  for (const button of /** @type {HTMLButtonElement[]} */ (all("button", byId("setups-acts")))) {
    const compares = button.dataset.do === "compare";
    button.disabled = ids.length !== 1 && !(compares && ids.length === 2);
    if (compares) button.textContent = ids.length === 2 ? tr("Compare them") : tr("Go back to it");
  }
  return ids;
}

/** Show what leads to a set-up, from the car as it is or from another one. @param {string} to @param {string} [from] */
async function compare(to, from) {
  const [there, here] = [await whole(to), from ? await whole(from) : undefined];
  const one = here ? { name: here.head.name, car: here.car } : { name: tr("now"), car: await asItIs(), now: true };
  const other = { name: there.head.name, car: there.car, id: to };
  const { html } = await ask({ ask: "compare", one, other, system: state.system });
  byId("setups-shown").innerHTML = html;
  byId("setups-shown").scrollIntoView({ block: "nearest" });
}

/** The car at work as a record, whichever it is. */
const asItIs = async () => state.car ?? (await ask({ ask: "another", car: null, copies: true, names: [] })).car;

/** A set-up as it is stored: the line of the list apart from its car. @param {Setup} setup @param {number | null} temperature @param {string} owner */
export function parted({ car, ...words }, temperature, owner, id = fresh()) {
  return { head: { id, owner, ...words, temperature }, body: { id, car } };
}

/** @param {Unrevised<"setups"> & {revision?: number}} head @param {SetupBody} body @param {Car} [owner] a car to keep with it */
async function save(head, body, owner) {
  await inTurn(async () => {
    await change([...BOTH, "cars", "typed", "settings"], (tx) => saveIn(tx, head, body, owner));
    if (owner) succeed("", head.owner, { car: owner, revision: 1 });
  });
  if (owner) await load();
}

/** @param {Change} tx @param {Parameters<typeof save>[0]} head @param {SetupBody} body @param {Car} [owner] */
async function saveIn(tx, head, body, owner) {
  if (owner) {
    await put(tx, "cars", { id: head.owner, car: owner }, 0);
    await moveIn(tx, "", head.owner);
    await patchPage(tx, { current: head.owner });
  }
  if (!(await tx.objectStore("cars").get(head.owner)))
    throw new Stale(tr("The car of this set-up has been deleted meanwhile, so the set-up is not kept: bring the car back, then try again."));
  await put(tx, "setups", head, head.revision ?? 0);
  await tx.objectStore("setup_cars").put(body);
}

byId("setups-list").addEventListener("change", picked);
search.addEventListener("input", find);

/** @type {Record<string, (button: HTMLElement) => Promise<unknown>>} */
export const actions = {
  "save-setup": async () => {
    putDay(); // touched before the page was answered
    const { car, current, system } = state;
    const sent = texts(form);
    const { setup, temperature = null, problems } = await ask({ ask: "setup", typed: sent, car, system });
    mark(form, problems);
    if (!setup) return;
    const { head, body } = parted(setup, temperature, current || fresh());
    await save(head, body, current ? undefined : setup.car);
    clear(form, sent);
    await refresh(); // a set-up is not said to be saved before it can be ticked
    notice(tr("Saved: {name}.", { name: head.name }));
  },
  compare: async () => {
    const [one, two] = picked();
    await (two ? compare(two, one) : compare(one));
  },
  "take-setup": async ({ dataset: { id = "" } }) => {
    const { head, car: wanted } = await whole(id);
    const back = await keep((car, at) => ask({ ask: "take", car, at, wanted, name: head.name }));
    byId("setups-shown").textContent = "";
    notice([tr("The car is saved as it was in {name}.", { name: head.name }), back.again].filter(Boolean).join(" "), back);
  },
  "copy-setup": async () => {
    const [id] = picked();
    const { head, car } = await whole(id);
    const room = Number(byId("setups").dataset.longest) - tr("{name} (copy)", { name: "" }).length;
    const copy = { ...head, id: fresh(), name: tr("{name} (copy)", { name: head.name.slice(0, room) }), revision: 0, changed: 0 };
    await save(copy, { id: copy.id, car });
    for (const input of /** @type {HTMLInputElement[]} */ (all("input", byId("setups-list")))) input.checked = false;
    await refresh();
  },
  "delete-setup": async () => {
    const [id] = picked();
    const { head, car } = await whole(id);
    await change(BOTH, async (tx) => {
      await remove(tx, "setups", id, head.revision);
      await tx.objectStore("setup_cars").delete(id);
    });
    await refresh();
    notice(tr("Deleted: {name}.", { name: head.name }), () => save({ ...head, revision: 0 }, { id, car }));
  },
};
