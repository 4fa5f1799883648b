// @ts-check
/** The backup file, the log for a spreadsheet, and whether the browser will keep what is stored. */

import { ask } from "./ask.js";
import { all, byId, notice } from "./dom.js";
import { change, now, pageIn, patchPage, read, Stale, stale, STORES, zone } from "./db.js";
import { state } from "./state.js";
import { load } from "./store.js";
import { parted } from "./setups.js";
import { SLUG as BUILD } from "./ticks.js";
import { inTurn } from "./typed.js";
import { day, today, tr } from "./words.js";

const DAY = 86_400; // s
const OLD = { promised: 60 * DAY, not: 14 * DAY };
const LARGEST = 32_000_000; // bytes; Python refuses what is longer as well
/** @type {Store[]} */
const RESTORED = ["cars", "typed", "log", "setups", "setup_cars"];
/** What is shown: what a backup file would change, and from what. @type {{text: string, way: Way, html: string} | undefined} */
let offered;

/** Every record of every store, as it is. @param {Transaction} tx @returns {Promise<Everything>} */
const everythingIn = async (tx) =>
  Object.fromEntries(await Promise.all(STORES.map(async (store) => [store, await tx.objectStore(store).getAll()])));
const everything = () => read(everythingIn);

/** Tells whether anything that restoring is about has changed: records by their revisions, the log by its lines. @param {Transaction} tx */
async function fingerprint(tx) {
  /** @param {Revised} store */
  const revisions = async (store) => (await tx.objectStore(store).getAll()).map(({ id, revision }) => [id, revision]);
  const { system } = await pageIn(tx); // typed texts that were there before may be meant in others
  const lines = await tx.objectStore("log").getAllKeys();
  return JSON.stringify([await revisions("cars"), await revisions("setups"), lines, await tx.objectStore("typed").getAll(), system]);
}

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

/** Without the cars that were deleted, which can still be brought back. @param {Everything} there @returns {Everything} */
function atHand(there) {
  const cars = there.cars.filter(({ gone }) => !gone);
  const ids = new Set(cars.map(({ id }) => id));
  const gone = new Set(there.cars.filter(({ id }) => !ids.has(id)).map(({ id }) => id));
  return {
    ...there, cars,
    setups: there.setups.filter(({ owner }) => !gone.has(owner)),
    log: there.log.filter(({ car }) => !gone.has(car)),
    typed: there.typed.filter(({ car }) => !gone.has(car)),
  };
}

/** Build lists under way; those of the demo car are nobody's. @param {TypedRecord[]} typed @returns {BuildInBackup[]} */
const buildsOf = (typed) =>
  typed.filter(({ car, form }) => car && form === BUILD).map(({ car, texts }) => ({ car, texts }));

/** The whole backup as text, and a sentence about what is not in it. */
async function made() {
  const { cars, setups, setup_cars, log, typed } = atHand(await everything());
  const builds = buildsOf(typed);
  const bodies = new Map(setup_cars.map(({ id, car }) => [id, car]));
  const reply = await ask({
    ask: "backup",
    now: now(),
    cars: cars.map(({ id, changed, car }) => ({ id, changed, car })),
    setups: setups.map(({ id, changed, owner, name, date, surface, note }) => ({
      id, changed, owner, setup: { name, date, surface, note, car: /** @type {Car} */ (bodies.get(id)) }, // its car may be gone: Python leaves it out
    })),
    log,
    builds,
  });
  return reply;
}

/** Show what a backup file would change. @param {File} file */
async function open(file) {
  if (file.size > LARGEST) return notice(tr("This file is too large to be a backup of this site: choose another."));
  const way = /** @type {Way} */ (/** @type {HTMLInputElement} */ (all('[name="restore-way"]:checked')[0]).value);
  await offer(await file.text(), way);
}

/** @param {string} text @param {Way} way */
async function offer(text, way) {
  const { plan } = await planned(text, way);
  offered = { text, way, html: plan.html };
  byId("cars-shown").innerHTML = plan.html;
  byId("cars-shown").scrollIntoView({ block: "nearest" });
}

/** What a backup file would change now; with it all that is there, and its fingerprint. @param {string} text @param {Way} way */
async function planned(text, way) {
  const { before, current, print } = await read(async (tx) => ({
    before: await everythingIn(tx),
    current: (await pageIn(tx)).current ?? "",
    print: await fingerprint(tx),
  }));
  const { cars, setups, log, typed } = atHand(before);
  /** @template {CarRecord | SetupHead} R @param {R[]} records @param {(one: R) => string} name @returns {Index} */
  const index = (records, name) =>
    Object.fromEntries(records.map((one) => [one.id, [one.changed, name(one)]]));
  const plan = await ask({
    ask: "restore",
    text,
    way,
    zone: zone(),
    cars: index(cars, nameOf),
    setups: index(setups, ({ name }) => name),
    log: log.map(({ id }) => id),
    builds: buildsOf(typed),
  });
  return { plan, before, current, print };
}

/** Write what was shown, as one change, if it is still that. Returns how to take it back. */
async function restore() {
  const { text, way, html } = /** @type {NonNullable<typeof offered>} */ (offered);
  const { plan: { html: newer, clears, write }, before, current, print } = await planned(text, way);
  if (newer !== html) {
    await offer(text, way);
    throw new Stale(tr("The cars have changed since this was shown, and so has what the backup changes: look at it again, then confirm."));
  }
  const after = await inTurn(() => change(STORES, async (tx) => {
    // So each set-up and line of the log finds the car that it had when this was planned.
    if ((await fingerprint(tx)) !== print) throw stale();
    /** @template {Store} S @param {S} name */
    const store = (name) => tx.objectStore(name);
    if (clears) for (const name of RESTORED) if (name !== "typed") await store(name).clear();
    const revised = async (/** @type {Revised} */ name, /** @type {Unrevised<Revised> & {changed: number}} */ record) => {
      const there = await store(name).get(record.id);
      await store(name).put({ ...record, revision: (there?.revision ?? 0) + 1 });
    };
    for (const one of write.cars) await revised("cars", one);
    for (const { id, changed, owner, setup, temperature } of write.setups) {
      const { head, body } = parted(setup, temperature, owner, id);
      await revised("setups", { ...head, changed });
      await store("setup_cars").put(body);
    }
    await Promise.all(write.log.map((one) => store("log").put(one)));
    await Promise.all(write.builds.map(({ car, texts }) => store("typed").put({ car, form: BUILD, texts })));
    const ids = (await store("cars").getAll()).filter(({ gone }) => !gone).map(({ id }) => id);
    // What was typed is in no backup: it goes only with its car.
    for (const { car, form } of before.typed) if (car && !ids.includes(car)) await store("typed").delete([car, form]);
    if (!ids.includes(current)) await patchPage(tx, { current: ids[0] ?? "" });
    return fingerprint(tx);
  }));
  await load();
  return async () => {
    await inTurn(() => change(STORES, async (tx) => {
      if ((await fingerprint(tx)) !== after)
        throw new Stale(tr("Something has been entered or changed since the backup came in, so that cannot be undone now."));
      for (const name of RESTORED) {
        await tx.objectStore(name).clear();
        await Promise.all(before[name].map((one) => tx.objectStore(name).put(one)));
      }
      await patchPage(tx, { current });
    }));
    await load();
  };
}

export const putOff = () => (offered = undefined);

let hasAsked = false;

/**
 * Whether the browser has promised to keep what is stored. It is asked to, once a page, where there
 * is something to keep; nothing waits for it, because a browser may ask the user, who may never answer.
 */
async function promised() {
  if (!navigator.storage?.persist) return undefined;
  const keeps = await navigator.storage.persisted();
  if (!keeps && state.current && !hasAsked) {
    hasAsked = true;
    navigator.storage.persist().then((now) => (now ? tell() : undefined)).catch(() => {});
  }
  return keeps;
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
          "This browser has not promised to keep what is stored here, and may clear it when space is short: make backups, and add this page to the home screen.",
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
    const { text, left } = await made();
    const handed = await hand(`damper-bench-${today()}.json`, "application/json", text);
    if (!handed) return notice(tr("No backup was made."));
    await change(["settings"], (tx) => tx.objectStore("settings").put(now(), "backup"));
    notice([tr("The backup file is made: keep it somewhere else than on this device."), left].filter(Boolean).join(" "));
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
