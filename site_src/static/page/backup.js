// @ts-check
/** The backup file, the log for a spreadsheet, and whether the browser will keep what is stored. */

import { ask } from "./ask.js";
import { all, byId, notice } from "./dom.js";
import { change, now, read, STORES } from "./db.js";
import { load, settings, state } from "./store.js";
import { parted } from "./setups.js";
import { day, today, tr } from "./words.js";

const DAY = 86_400; // s
const OLD = { promised: 60 * DAY, not: 14 * DAY };
const LARGEST = 10_000_000; // bytes; Python refuses what is longer as well
/** @type {Plan | undefined} */
let plan;

/** Every record of every store, as it is. @returns {Promise<Everything>} */
const everything = () =>
  read(async (tx) =>
    Object.fromEntries(await Promise.all(STORES.map(async (store) => [store, await tx.objectStore(store).getAll()]))),
  );

/** Hand a file to the share sheet, else to the downloads. @param {string} name @param {string} type @param {string} text */
async function hand(name, type, text) {
  const file = new File([text], name, { type });
  if (matchMedia("(pointer: coarse)").matches && navigator.canShare?.({ files: [file] })) {
    try {
      await navigator.share({ files: [file] });
      return true;
    } catch (error) {
      if (error instanceof Error && error.name === "AbortError") return false;
    }
  }
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  return true;
}

/** A damaged record has to be seen and replaced as well. @param {CarRecord} record */
export const nameOf = ({ car }) => String(car?.name ?? "?");

/** The whole backup as text. */
async function text() {
  const { cars, setups, setup_cars, log } = await everything();
  const bodies = new Map(setup_cars.map(({ id, car }) => [id, car]));
  const reply = await ask({
    ask: "backup",
    now: now(),
    cars: cars.map(({ id, changed, car }) => ({ id, changed, car })),
    setups: setups.map(({ id, changed, owner, name, date, surface, note }) => ({
      id, changed, owner, setup: { name, date, surface, note, car: /** @type {Car} */ (bodies.get(id)) },
    })),
    log,
  });
  return reply.text;
}

/** Show what a backup file would change. @param {File} file */
async function open(file) {
  if (file.size > LARGEST) return notice(tr("This file is too large to be a backup of this site: choose another."));
  const ticked = /** @type {HTMLInputElement} */ (all('[name="restore-way"]:checked')[0]);
  const { cars, setups, log } = await everything();
  /** @template {CarRecord | SetupHead} R @param {R[]} records @param {(one: R) => string} name @returns {Question<"restore">["cars"]} */
  const index = (records, name) =>
    Object.fromEntries(records.map((one) => [one.id, [one.changed, name(one)]]));
  const reply = await ask({
    ask: "restore",
    text: await file.text(),
    way: /** @type {Question<"restore">["way"]} */ (ticked.value),
    zone: -60 * new Date().getTimezoneOffset(),
    cars: index(cars, nameOf),
    setups: index(setups, ({ name }) => name),
    log: log.map(({ id }) => id),
  });
  plan = reply;
  byId("cars-shown").innerHTML = reply.html;
  byId("cars-shown").scrollIntoView({ block: "nearest" });
}

/** Write what was planned, as one change. Returns how to take it back. */
async function restore() {
  const { clears, write } = /** @type {Plan} */ (plan);
  const before = await everything();
  await change(STORES, async (tx) => {
    /** @template {Store} S @param {S} name */
    const store = (name) => tx.objectStore(name);
    if (clears) for (const name of /** @type {Store[]} */ (["cars", "typed", "log", "setups", "setup_cars"])) await store(name).clear();
    const revised = async (/** @type {Revised} */ name, /** @type {Unrevised<Revised> & {changed: number}} */ record) => {
      const there = await store(name).get(record.id);
      await store(name).put({ ...record, revision: (there?.revision ?? 0) + 1 });
    };
    for (const one of write.cars) await revised("cars", one);
    for (const { id, changed, owner, setup } of write.setups) {
      const { head, body } = parted(setup, owner, id);
      await revised("setups", { ...head, changed });
      await store("setup_cars").put(body);
    }
    await Promise.all(write.log.map((one) => store("log").put(one)));
    const ids = await store("cars").getAllKeys();
    const current = ids.includes(state.current) ? state.current : (ids[0] ?? "");
    await store("settings").put({ ...settings(), current }, "page");
  });
  await load();
  return async () => {
    await change(STORES, async (tx) => {
      for (const name of STORES) {
        if (name === "settings") continue;
        await tx.objectStore(name).clear();
        await Promise.all(before[name].map((one) => tx.objectStore(name).put(one)));
      }
      await tx.objectStore("settings").put({ ...settings(), current: before.cars[0]?.id ?? "" }, "page");
    });
    await load();
  };
}

export const putOff = () => (plan = undefined);

/** Whether the browser has promised to keep what is stored; asks for it where there is something to keep. */
export async function promised() {
  if (!navigator.storage?.persist) return undefined;
  return (await navigator.storage.persisted()) || (state.current ? navigator.storage.persist() : false);
}

/** Say how safe it is: on the page of the cars, and at the top where a backup is due. */
export async function tell() {
  const keeps = await promised();
  const last = await read(async (tx) => ({
    made: /** @type {number} */ ((await tx.objectStore("settings").get("backup")) ?? 0),
    cars: await tx.objectStore("cars").getAll(),
  }));
  byId("kept-told").textContent = keeps
    ? tr("This browser has promised to keep what is stored here until you delete it.")
    : keeps === undefined
      ? tr("This browser cannot promise to keep what is stored here: make backups.")
      : tr(
          "This browser has not promised to keep what is stored here, and may clear it when room is short: make backups, and add this page to the home screen.",
        );
  byId("backup-told").textContent = last.made
    ? tr("Last backup: {day}. One file holds all cars, set-ups and the log.", { day: day(last.made * 1000) })
    : tr("No backup has been made on this device. One file holds all cars, set-ups and the log.");
  const installed = matchMedia("(display-mode: standalone)").matches;
  const first = Math.min(...last.cars.map((one) => one.changed));
  const age = now() - (last.made || first);
  const due = last.cars.length > 0 && age > (keeps || installed ? OLD.promised : OLD.not);
  byId("backup-state").textContent = due ? tr("The last backup is old: make one under Cars and backup.") : "";
}

byId("backup-file").addEventListener("change", async ({ target }) => {
  const input = /** @type {HTMLInputElement} */ (target);
  const file = input.files?.[0];
  if (file) await open(file).finally(() => (input.value = ""));
});

/** @type {Record<string, (button: HTMLElement) => Promise<unknown>>} */
export const actions = {
  backup: async () => {
    const handed = await hand(`damper-bench-${today()}.json`, "application/json", await text());
    if (!handed) return notice(tr("No backup was made."));
    await change(["settings"], (tx) => tx.objectStore("settings").put(now(), "backup"));
    notice(tr("The backup file is made: keep it somewhere else than on this device."));
  },
  restore: async () => {
    const back = await restore();
    putOff();
    byId("cars-shown").textContent = "";
    notice(tr("The backup is in."), back);
  },
  csv: async () => {
    const { log, cars } = await everything();
    const mine = log.filter(({ car }) => car === state.current).sort((one, other) => one.time - other.time);
    const names = Object.fromEntries(cars.map((one) => [one.id, nameOf(one)]));
    const reply = await ask({ ask: "csv", entries: mine, names });
    await hand(`collar-log-${today()}.csv`, "text/csv", "\ufeff" + reply.text);
  },
};
