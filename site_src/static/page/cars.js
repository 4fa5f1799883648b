// @ts-check
/** The page of the cars: which one is at work, new ones, copies; a car that came by a link. */

import { ask } from "./ask.js";
import * as backup from "./backup.js";
import { alter, byId, notice, parsed } from "./dom.js";
import { change, fresh, now, pageIn, patchPage, put, read, stale, STORES, under } from "./db.js";
import { state } from "./state.js";
import { load, remember, removeCar } from "./store.js";
import { inTurn } from "./typed.js";
import { tr } from "./words.js";

/** @type {Received | undefined} */
let received;
/** The car that a first touch would have deleted: every list asks, until something else is touched. */
let asksFor = "";
const DELETE = "[data-do=delete-car]";
for (const kind of ["click", "hashchange"])
  addEventListener(kind, ({ target }) => {
    if (!(target instanceof Element && target.closest(DELETE))) asksFor = "";
  }, true);

const KEPT_GONE = 30 * 86_400; // s that a deleted car can be brought back

const stored = () => read((tx) => tx.objectStore("cars").getAll());
/** The cars that were not deleted. */
export const atHand = async () => (await stored()).filter(({ gone }) => !gone);
const { nameOf } = backup;

export async function refresh() {
  for (const { id, gone } of await stored()) if (gone && gone < now() - KEPT_GONE) await purge(id);
  const list = (await stored()).map((one) => ({ id: one.id, name: nameOf(one), demo: Boolean(one.car?.demo), gone: Boolean(one.gone) }));
  const written = parsed((await ask({ ask: "cars", cars: list, current: state.current })).html);
  const button = written.querySelector(`${DELETE}[data-id="${asksFor}"]`);
  if (button instanceof HTMLElement) {
    button.dataset.sure = "";
    button.textContent = tr("Really delete it?");
  }
  alter(byId("cars-list"), written);
  if (document.activeElement === document.body) /** @type {HTMLElement | null} */ (byId("cars-list").querySelector("[data-sure]"))?.focus();
  await backup.tell();
}

/** Keep a new car and put it to work. @param {Car} car @param {string} said */
async function add(car, said) {
  const id = fresh();
  const before = state.current;
  await change(["cars", "settings"], async (tx) => {
    await put(tx, "cars", { id, car }, 0);
    await patchPage(tx, { current: id });
  });
  await load();
  notice(said, async () => {
    await inTurn(() => change(STORES, (tx) => removeCar(tx, id, 1, before)));
    await load();
  });
}

/** Every record of a car, by store. @param {Transaction} tx @param {string} id */
async function belongings(tx, id) {
  const own = under(id);
  const setups = (await tx.objectStore("setups").getAll()).filter((one) => one.owner === id);
  return {
    cars: [/** @type {CarRecord} */ (await tx.objectStore("cars").get(id))], // lists follow other windows
    typed: await tx.objectStore("typed").getAll(own),
    log: await tx.objectStore("log").index("time").getAll(own),
    setups,
    setup_cars: await Promise.all(setups.map((one) => tx.objectStore("setup_cars").get(one.id))),
  };
}

/** Delete for good. @param {string} id */
async function purge(id) {
  await inTurn(() => change(STORES, async (tx) => {
    for (const [store, records] of /** @type {ByStore} */ (Object.entries(await belongings(tx, id))))
      for (const one of records) await tx.objectStore(store).delete(store === "typed" ? [id, one.form] : one.id);
  }));
}

/** Delete, or bring back what was deleted. @param {string} id @param {number | undefined} gone when */
async function mark(id, gone) {
  const record = await inTurn(() => change(["cars", "settings"], async (tx) => {
    const there = await tx.objectStore("cars").get(id);
    if (!there) throw stale(); // gone for good meanwhile
    const { gone: _, ...rest } = there;
    await tx.objectStore("cars").put(gone ? { ...rest, gone } : rest);
    const left = (await tx.objectStore("cars").getAll()).filter((one) => !one.gone);
    const { current } = await pageIn(tx);
    if (gone && current === id) await patchPage(tx, { current: left[0]?.id ?? "" });
    if (!gone && !current) await patchPage(tx, { current: id });
    return there;
  }));
  await load();
  return record;
}

/** Asked for by a first touch; done at the second. @param {HTMLElement} button */
async function drop(button) {
  const { id = "" } = button.dataset;
  const isSure = "sure" in button.dataset;
  asksFor = isSure ? "" : id;
  if (!isSure) return;
  const wasAtWork = state.current === id;
  const record = await mark(id, now());
  notice(tr("Deleted: {name}. It can be brought back for 30 days.", { name: nameOf(record) }), async () => {
    await mark(id, undefined);
    if (wasAtWork) await remember({ current: id }).then(load);
  });
}

/** Show the car in an address before anything is done with it. @param {string} text */
export async function receive(text) {
  const names = Object.fromEntries((await atHand()).map((one) => [one.id, nameOf(one)]));
  history.replaceState(null, "", "#cars"); // it is asked once, not at every load
  const reply = await ask({ ask: "received", text, names });
  received = reply;
  byId("cars-shown").innerHTML = reply.html;
}

/** @param {string} copied */
const another = async (copied) => {
  const list = await atHand();
  const from = list.find(({ id }) => id === copied)?.car;
  return (await ask({ ask: "another", car: from ?? null, copies: Boolean(from), names: list.map(nameOf) })).car;
};

/** @type {Record<string, (button: HTMLElement) => Promise<unknown>>} */
export const actions = {
  ...backup.actions,
  "switch-car": async ({ dataset: { id = "" } }) => {
    await remember({ current: id });
    await load();
  },
  "new-car": async () => add(await another(""), tr("A new car: nothing is known about it yet.")),
  "copy-car": async ({ dataset: { id = "" } }) => add(await another(id), tr("Copied; the copy is in use now.")),
  "delete-car": drop,
  "bring-back": ({ dataset: { id = "" } }) => mark(id, undefined),
  "put-off": async () => {
    received = undefined;
    backup.putOff();
    byId("cars-shown").textContent = "";
  },
  "add-received": async () => {
    const { beside } = /** @type {Received} */ (received);
    await actions["put-off"](document.body);
    await add(beside, tr("The car is here, and in use now."));
  },
  "replace-received": async () => {
    const { car, same } = /** @type {Received} */ (received);
    const before = (await atHand()).find(({ id }) => id === same);
    if (!before) throw stale();
    const kept = await change(["cars"], (tx) => put(tx, "cars", { id: same, car }, before.revision), { car: same });
    await actions["put-off"](document.body);
    await load();
    notice(tr("Your car is as in the link now."), async () => {
      await change(["cars"], (tx) => put(tx, "cars", { id: same, car: before.car }, kept.revision), { car: same });
      await load();
    });
  },
};
