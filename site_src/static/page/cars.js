// @ts-check
/** The page of the cars: which one is at work, new ones, copies; a car that came by a link. */

import { ask } from "./ask.js";
import * as backup from "./backup.js";
import { byId, notice } from "./dom.js";
import { change, fresh, put, read, STORES } from "./db.js";
import { load, remember, remove, settings, state } from "./store.js";
import { tr } from "./words.js";

/** @type {Received | undefined} */
let received;

const cars = () => read((tx) => tx.objectStore("cars").getAll());
const { nameOf } = backup;

export async function refresh() {
  const list = (await cars()).map((one) => ({ id: one.id, name: nameOf(one), demo: Boolean(one.car?.demo) }));
  byId("cars-list").innerHTML = (await ask({ ask: "cars", cars: list, current: state.current })).html;
  await backup.tell();
}

/** Keep a new car and put it to work. @param {Car} car @param {string} said */
async function add(car, said) {
  const id = fresh();
  const before = state.current;
  await change(["cars", "settings"], async (tx) => {
    await put(tx, "cars", { id, car }, 0);
    await tx.objectStore("settings").put({ ...settings(), current: id }, "page");
  });
  await load();
  notice(said, async () => {
    await change(["cars", "settings"], async (tx) => {
      await remove(tx, "cars", id, 1);
      await tx.objectStore("settings").put({ ...settings(), current: before }, "page");
    });
    await load();
  });
}

/** Every record of a car, by store. @param {Transaction} tx @param {string} id */
async function belongings(tx, id) {
  const from = IDBKeyRange.bound([id], [id, []]);
  const setups = (await tx.objectStore("setups").getAll()).filter((one) => one.owner === id);
  return {
    cars: [/** @type {CarRecord} */ (await tx.objectStore("cars").get(id))], // lists follow other windows
    typed: await tx.objectStore("typed").getAll(from),
    log: await tx.objectStore("log").index("time").getAll(from),
    setups,
    setup_cars: await Promise.all(setups.map((one) => tx.objectStore("setup_cars").get(one.id))),
  };
}

/** @param {string} id */
async function drop(id) {
  const gone = await change(STORES, async (tx) => {
    const mine = await belongings(tx, id);
    for (const [store, records] of /** @type {ByStore} */ (Object.entries(mine)))
      for (const one of records) await tx.objectStore(store).delete(store === "typed" ? [id, one.form] : one.id);
    const left = await tx.objectStore("cars").getAllKeys();
    const current = state.current === id ? (left[0] ?? "") : state.current;
    await tx.objectStore("settings").put({ ...settings(), current }, "page");
    return mine;
  });
  const wasAtWork = state.current === id;
  await load();
  notice(tr("Deleted, with its log and its set-ups: {name}.", { name: nameOf(gone.cars[0]) }), async () => {
    await change(STORES, async (tx) => {
      for (const [store, records] of /** @type {ByStore} */ (Object.entries(gone))) for (const one of records) await tx.objectStore(store).put(one);
      if (wasAtWork) await tx.objectStore("settings").put({ ...settings(), current: id }, "page");
    });
    await load();
  });
}

/** Show the car in an address before anything is done with it. @param {string} text */
export async function receive(text) {
  const names = Object.fromEntries((await cars()).map((one) => [one.id, nameOf(one)]));
  history.replaceState(null, "", "#cars"); // it is asked once, not at every load
  const reply = await ask({ ask: "received", text, names });
  received = reply;
  byId("cars-shown").innerHTML = reply.html;
}

/** @param {string} copied */
const another = async (copied) => {
  const list = await cars();
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
  "new-car": async () => add(await another(""), tr("A new car, with the demo car's values until you put in yours.")),
  "copy-car": async ({ dataset: { id = "" } }) => add(await another(id), tr("Copied; the copy is at work now.")),
  "delete-car": ({ dataset: { id = "" } }) => drop(id),
  "put-off": async () => {
    received = undefined;
    backup.putOff();
    byId("cars-shown").textContent = "";
  },
  "add-received": async () => {
    const { beside } = /** @type {Received} */ (received);
    await actions["put-off"](document.body);
    await add(beside, tr("The car is here, and at work now."));
  },
  "replace-received": async () => {
    const { car, same } = /** @type {Received} */ (received);
    const before = /** @type {CarRecord} */ ((await cars()).find(({ id }) => id === same));
    const kept = await change(["cars"], (tx) => put(tx, "cars", { id: same, car }, before.revision), { car: same });
    await actions["put-off"](document.body);
    await load();
    notice(tr("Your car is as in the link now."), async () => {
      await change(["cars"], (tx) => put(tx, "cars", { id: same, car: before.car }, kept.revision), { car: same });
      await load();
    });
  },
};
