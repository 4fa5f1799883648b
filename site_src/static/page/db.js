// @ts-check
/**
 * The database of this device. One change is one transaction: all of it is there afterwards, or
 * nothing. A record carries its revision, so that two windows never overwrite each other.
 *
 *   cars       {id, revision, changed, car, gone}   gone: when it was deleted, for 30 days
 *   typed      {car, form, texts}            what was typed in a form, for that car: by field, each
 *                                            text with its units, the time it was typed (ms) and
 *                                            the paths of all work undone since
 *   log        entry of the collar log, as Python makes it; found by car and time, or car and kind
 *   setups     {id, revision, changed, owner, name, date, surface, note, temperature}
 *   setup_cars {id, car}                     the car of a set-up, apart: lists do not need it
 *   settings   "page", "backup" ...          small things, by name
 *
 * Times are in s since 1970.
 */

import { openDB } from "./idb.js";
import { tr } from "./words.js";

export const NAME = "damper-bench";
export const VERSION = 5;
/** Version 1 was one text under this name in the local storage. */
const FIRST = "damper-bench";
/** @type {Store[]} */
export const STORES = ["cars", "typed", "log", "setups", "setup_cars", "settings"];

/** A change that was not made; the message is for the user. */
export class Trouble extends Error {}
/** Another window was quicker. */
export class Stale extends Trouble {}

const SENTENCES = {
  QuotaExceededError: tr(
    "There is no room left on this device, so that was not kept: make a backup, delete what is not needed, then try again.",
  ),
  VersionError: tr("Another window has a newer version of this page: load this one again, then try again."),
};
const REFUSED = tr(
  "This browser did not keep that: close other windows of this page, then try again; print the sheet if it stays so.",
);

/** @type {Promise<Database> | undefined} */
let opened;
const channel = joined();

/** Where other windows are told of changes; where the browser lets a site keep nothing, some refuse it too. */
function joined() {
  try {
    return new BroadcastChannel(NAME);
  } catch {
    return undefined;
  }
}

export const fresh = () =>
  Array.from(crypto.getRandomValues(new Uint8Array(12)), (byte) => byte.toString(16).padStart(2, "0")).join("");
export const now = () => Date.now() / 1000;
/** The time zone of this device, s east of UTC. */
export const zone = () => -60 * new Date().getTimezoneOffset();
/** All keys that begin with these: in the order of keys a list comes after every number and text. @param {...string} keys */
export const under = (...keys) => IDBKeyRange.bound(keys, [...keys, []]);

/**
 * Work of this window, one piece after the other, so that each sees what became of those before.
 * @param {Promise<unknown>} [first] what all of it waits for
 */
export function queue(first = Promise.resolve()) {
  let last = first;
  // What a page waited for when it was put by may never end.
  addEventListener("pageshow", ({ persisted }) => {
    if (persisted) last = Promise.resolve();
  });

  /** @template T @param {() => Promise<T>} work @returns {Promise<T>} */
  function inTurn(work) {
    const done = last.then(work);
    last = done.catch(() => {});
    return done;
  }
  return inTurn;
}

/** What makes each version of the one before it. @type {Record<number, (db: Database, tx: Upgrade) => void | Promise<void>>} */
const MIGRATIONS = {
  2: (db, tx) => {
    for (const name of /** @type {Store[]} */ (["cars", "setups", "setup_cars"])) db.createObjectStore(name, { keyPath: "id" });
    db.createObjectStore("typed", { keyPath: ["car", "form"] });
    db.createObjectStore("settings");
    const log = db.createObjectStore("log", { keyPath: "id" });
    log.createIndex("time", ["car", "time"]);
    log.createIndex("kind", ["car", "kind", "time"]);
    takeOver(tx, first());
  },
  3: async (_, tx) => {
    /** @type {System} */
    const system = (await pageIn(tx)).system === "imperial" ? "imperial" : "metric";
    await patchPage(tx, { system });
    for (const { texts, ...record } of await tx.objectStore("typed").getAll()) {
      const bare = Object.entries(texts).filter(([, text]) => typeof text === "string");
      const entries = Object.fromEntries(bare.map(([name, text]) => [name, { text: String(text), system, time: 0 }]));
      await tx.objectStore("typed").put({ ...record, texts: entries });
    }
  },
  // Lines of the log may tell of dampers now, which a page of an earlier version would call damaged,
  4: () => {},
  // and of a damper's reading when it was measured.
  5: () => {},
};

/** What version 1 kept; nothing where there is none or it is damaged. @returns {First} */
function first() {
  try {
    const kept = JSON.parse(localStorage.getItem(FIRST) ?? "{}");
    return kept && typeof kept === "object" ? kept : {};
  } catch {
    return {};
  }
}

/** @param {Upgrade} tx @param {First} old */
function takeOver(tx, old) {
  const current = old.car && typeof old.car === "object" ? fresh() : "";
  if (old.car && current) tx.objectStore("cars").put({ id: current, revision: 1, changed: now(), car: old.car });
  for (const [form, texts] of Object.entries(old.typed ?? {}))
    if (texts && typeof texts === "object") tx.objectStore("typed").put({ car: current, form, texts: /** @type {any} */ (texts) });
  tx.objectStore("settings").put({ system: old.system, last: old.last, current }, "page");
}

/** @returns {Promise<Database>} */
function open() {
  const asked = (opened ??= openDB(NAME, VERSION, /** @type {Callbacks} */ ({
    async upgrade(db, from, to, tx) {
      try {
        for (let version = Math.max(from, 1) + 1; version <= Number(to); version++) await MIGRATIONS[version](db, tx);
      } catch (error) {
        console.error(error);
        tx.abort(); // all of it or nothing: the next page tries again
      }
    },
    // A newer version of the page, in another window, may not have to wait for this one.
    blocking: () => opened?.then((db) => db.close()).then(forget),
    terminated: forget,
  })).then((db) => {
    drop();
    return db;
  }));
  asked.catch(forget);
  return asked;
}

const forget = () => (opened = undefined);

/** @type {Set<Change | Transaction>} */
const underWay = new Set();
/** How often the page was put by, and when it is shown again. */
let times = 0;
/** @type {Promise<unknown>} */
let shownAgain = Promise.resolve();

// A page that is put by in the middle of a transaction keeps every other one from the database in
// one engine, for as long as it is put by. So it gives up, and begins again once it is shown.
addEventListener("pagehide", ({ persisted }) => {
  if (!persisted) return;
  times++;
  shownAgain = new Promise((resolve) => addEventListener("pageshow", resolve, { once: true }));
  for (const tx of underWay) {
    try {
      tx.abort();
    } catch {
      // it is over already
    }
  }
  opened?.then((db) => db.close());
  forget();
});

/** @template {IDBTransactionMode} M @param {Database} db @param {Store[]} stores @param {M} mode @param {IDBTransactionOptions} [options] */
function begin(db, stores, mode, options) {
  const tx = db.transaction(stores, mode, options);
  underWay.add(tx);
  const over = () => underWay.delete(tx);
  tx.done.then(over, over); // where it fails, the await of its work says why
  return tx;
}

/** Version 1 has been taken over: its text is not needed any more. */
function drop() {
  try {
    localStorage.removeItem(FIRST);
  } catch {
    // no local storage here, so there was no version 1
  }
}

/**
 * Read, in one view of the database. @template T
 * @param {(tx: Transaction) => Promise<T>} work @returns {Promise<T>}
 */
export async function read(work) {
  return within((db) => work(begin(db, STORES, "readonly")));
}

/**
 * Make one change. What `work` returns comes back once the change is kept.
 * @template T @param {Store[]} stores @param {(tx: Change) => Promise<T>} work
 * @param {{car?: string, durable?: boolean}} [more] @returns {Promise<T>}
 */
export async function change(stores, work, { car = "", durable = true } = {}) {
  const result = await within(async (db) => {
    const tx = begin(db, stores, "readwrite", { durability: durable ? "strict" : "relaxed" });
    try {
      const made = await work(tx);
      await tx.done;
      return made;
    } catch (error) {
      try {
        tx.abort();
      } catch {
        // it is over already
      }
      throw tx.error ?? error;
    }
  });
  channel?.postMessage({ stores, car });
  return result;
}

/** @template T @param {(db: Database) => Promise<T>} work @returns {Promise<T>} */
async function within(work) {
  await shownAgain;
  const before = times;
  try {
    try {
      return await work(await open());
    } catch (error) {
      // The browser closed the database under us (it was cleared, or the page slept): once more.
      if (!(error instanceof DOMException) || error.name !== "InvalidStateError") throw error;
      forget();
      return await work(await open());
    }
  } catch (error) {
    if (times !== before) return within(work);
    if (error instanceof Trouble) throw error;
    console.warn(error);
    const name = /** @type {keyof typeof SENTENCES} */ (error instanceof Error ? error.name : "");
    throw new Trouble(SENTENCES[name] ?? REFUSED);
  }
}

/**
 * Put a record of which this window last saw the revision `seen` (0: it is new). Raises Stale
 * where another window has changed it since; one that the browser has lost is written again.
 * @template {Revised} S @param {Change} tx @param {S} store @param {Unrevised<S>} record @param {number} seen
 */
export async function put(tx, store, record, seen) {
  const there = await tx.objectStore(store).get(record.id);
  if (there && there.revision !== seen) throw stale();
  const made = /** @type {Schema[S]["value"]} */ ({ ...record, revision: seen + 1, changed: Math.max(now(), record.changed ?? 0) });
  await tx.objectStore(store).put(made);
  return made;
}

/** Where another window has changed what a change was made for. */
export const stale = () => new Stale(tr("This was changed in another window meanwhile: look at it, then do it again."));

/** The settings of the page. @param {Transaction | Upgrade} tx */
export const pageIn = async (tx) => /** @type {Settings} */ ((await tx.objectStore("settings").get("page")) ?? {});

/** Change a part of them, whatever this window remembers of the others. @param {Change | Upgrade} tx @param {Settings} part */
export const patchPage = async (tx, part) => tx.objectStore("settings").put({ ...(await pageIn(tx)), ...part }, "page");

/** Told when another window has changed something. @param {(told: {stores: string[], car: string}) => void} callback */
export function onChange(callback) {
  channel?.addEventListener("message", ({ data }) => callback(data));
}
