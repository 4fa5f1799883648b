// @ts-check
/**
 * What this device keeps and this window shows of it: the units, the car at work, where its collars
 * were turned. `state` changes when a change has been kept; what is typed, and the units, change at
 * once, because they stand on the screen already.
 */

import { ask } from "./ask.js";
import { change, fresh, now, onChange, pageIn, patchPage, put, read, Stale, stale, STORES, under, zone } from "./db.js";
import { counted, isDemo, set, setTyped, state, textsOf } from "./state.js";
import { becomeKnown, exchangeIn, exchangePending, inTurn, moveIn, movePending, retexted, settle, show, takeUp, typedIn, undoneIn, withPending } from "./typed.js";
import { tr } from "./words.js";

const TRIES = 40; // each time another window was quicker
/** @type {Store[]} */
const KEPT_WITH_A_CAR = ["cars", "log", "typed", "settings"];

/** Take what is kept into `state`, after what this window is about to keep. Raises Trouble. */
export const load = () => inTurn(loadNow);

async function loadNow() {
  const { typed, ...kept } = await read(async (tx) => {
    const page = await pageIn(tx);
    const record = page.current ? await tx.objectStore("cars").get(page.current) : undefined;
    const current = record?.id ?? "";
    return {
      system: page.system ?? "metric",
      last: page.last ?? "",
      current,
      car: record?.car ?? null,
      revision: record?.revision ?? 0,
      typed: await typedIn(tx, current),
    };
  });
  setTyped(withPending(kept.current, typed), kept);
}

/** Read what this device keeps for the first time, and what an earlier page could not keep. Raises Trouble. */
export async function begin() {
  try {
    await loadNow();
  } finally {
    becomeKnown();
    await takeUp();
  }
}

/** Keep the open page or the car at work. @param {{last?: string, current?: string}} part */
export const remember = (part) => change(["settings"], (tx) => patchPage(tx, part), { durable: false });

/** Change the units. What is typed keeps those it was typed in, until it is asked about. @param {System} system */
export async function changeSystem(system) {
  set({ system });
  await inTurn(() => change(["settings"], (tx) => patchPage(tx, { system })));
}

/** The log's newest entry and newest base of a car. @param {string} car */
export const ends = (car) =>
  read(async (tx) => {
    const last = (/** @type {"time" | "kind"} */ index, /** @type {IDBKeyRange} */ range) =>
      tx.objectStore("log").index(index).openCursor(range, "prev").then((at) => at?.value);
    return {
      newest: await last("time", under(car)),
      base: await last("kind", under(car, "base")),
    };
  });

export const LINES = 60; // of the log, which are looked at if nobody asks for earlier ones

/** The newest entries of the car at work and its base, oldest first. @param {number} most */
export async function lines(most) {
  const car = state.current;
  const { base } = await ends(car);
  const found = await read(async (tx) => {
    const times = tx.objectStore("log").index("time");
    const own = under(car);
    // One leap back instead of a step for each line.
    const last = await times.openCursor(own, "prev");
    const first = await last?.advance(most - 1);
    return times.getAll(first ? IDBKeyRange.bound(first.key, own.upper) : own);
  });
  return base && !found.some(({ id }) => id === base.id) ? [base, ...found] : found;
}

/** The newest lines for the answers of forms, read once for each version of the car. @type {{of: string, lines: LogEntry[]}} */
let past = { of: "", lines: [] };

/** @returns {Promise<LogEntry[]>} none where the database is in trouble: an answer needs none */
export async function pastLines() {
  const { current, revision } = state;
  const of = `${current} ${revision}`;
  if (!current) return [];
  if (past.of !== of) past = { of, lines: await lines(LINES).catch(() => []) };
  return past.lines;
}

/** What an entry of the log needs to know. @param {string} current @returns {Promise<Moment>} */
async function moment(current) {
  const car = current || fresh();
  const { newest, base } = await ends(car);
  // A clock that was set back must not put the newest line below older ones.
  const time = Math.max(now(), (newest?.time ?? 0) + 0.01);
  return { id: fresh(), car, time, zone: zone(), based: Boolean(base), newest: newest ?? null };
}

/**
 * A change of a car as it was made: the car and the texts it was made of, what came of them.
 * @typedef {{id: string, form: string, current: string, car: Car | null, revision: number, seen: Entries,
 *   made: Made, wanted: Entries, newest: LogEntry | null}} Deed `current` and `car` are empty for the
 *   demo car; `seen` and `wanted` are what was typed in the form before and after; `newest` is the
 *   last line of the log before, which entered values join
 */

/**
 * Change the car at work, what its log says, and what is typed in `form`, as one change. `make` is
 * asked again, for the newer car, where another window was quicker. Returns how to take it back,
 * which knows what the work asks to be measured `again`; of several in a row the newest goes first
 * and returns the revision of the car that the one before it takes.
 * @param {(car: Car | null, at: Moment, asked: {typed: Texts, system: System}) => Promise<Made>} make
 * @param {string} [form] @returns {Promise<((revision?: number) => Promise<number>) & {again: string}>}
 */
export async function keep(make, form = "") {
  for (let left = TRIES; ; left--) {
    await settle(form);
    const { car, revision, current, system } = state;
    const seen = counted(form);
    const at = await moment(current);
    const made = await make(car, at, { typed: textsOf(seen), system });
    const wanted = made.typed ? stamped(seen, retexted(seen, made.typed, system)) : seen;
    const deed = { id: at.car, form, current, car, revision, seen, made, wanted, newest: at.newest };
    try {
      await inTurn(() => write(deed));
      const back = (now = revision + 1) => inTurn(() => takeBack(deed, now));
      return Object.assign(back, { again: made.again ?? "" });
    } catch (error) {
      if (!(error instanceof Stale) || !left) throw error;
      await load();
      if (current && current !== state.current) throw error; // it must not be done to another car
    }
  }
}

/** What has been emptied is so since now: an older backup does not bring it back. @param {Entries} seen @param {Entries} wanted @returns {Entries} */
function stamped(seen, wanted) {
  const named = Object.entries(wanted).map(([name, entry]) =>
    [name, entry.text || !seen[name].text ? entry : { ...entry, time: Date.now() }]);
  return Object.fromEntries(named);
}

/** @type {Promise<unknown> | undefined} */
let beginning;

/** Settles once a car of one's own that is being begun is there. */
export const begun = () => beginning;

/**
 * Begin a car of one's own, of which nothing is known, and take along what was typed: nothing of
 * one's own ever stands beside what was invented.
 */
export function beginOwn() {
  beginning ??= (async () => {
    const from = state.current;
    const names = (await read((tx) => tx.objectStore("cars").getAll())).map(({ car }) => String(car?.name ?? ""));
    const { car } = await ask({ ask: "another", car: null, copies: false, names });
    const id = fresh();
    await inTurn(async () => {
      if (!isDemo() || state.current !== from) return;
      await change(KEPT_WITH_A_CAR, async (tx) => {
        await put(tx, "cars", { id, car }, 0);
        await moveIn(tx, from, id);
        await patchPage(tx, { current: id });
      }, { car: id });
      succeed(from, id, { car, revision: 1 });
      await loadNow();
    });
  })().finally(() => (beginning = undefined));
  return beginning;
}

/** @param {Deed} deed */
async function write({ id, form, current, revision: seenRevision, seen, made: { car, log = [] }, wanted, newest }) {
  let lost = false;
  const record = await change(KEPT_WITH_A_CAR, async (tx) => {
    const there = await tx.objectStore("cars").get(id);
    const { current: other } = await pageIn(tx);
    const isGone = current && !there && (other || state.current !== current);
    const isOwn = !current && other && (await tx.objectStore("cars").get(other)); // the demo car no more
    if (isGone || isOwn) throw stale();
    lost = seenRevision > 0 && !there; // cleared by the browser, then
    const kept = await put(tx, "cars", { id, car }, seenRevision);
    for (const entry of log) await tx.objectStore("log")[entry.id === newest?.id ? "put" : "add"](entry);
    if (!current) await moveIn(tx, "", id);
    if (form) await exchangeIn(tx, id, form, seen, wanted);
    if (lost) await patchPage(tx, { system: state.system, current: id });
    else if (!current) await patchPage(tx, { current: id });
    return kept;
  }, { car: id });
  succeed(current, id, { car, revision: record.revision, lost: state.lost || lost });
  exchangePending(id, form, seen, wanted);
  if (form && state.current === id) show(form, seen, wanted);
}

/** A car as it has been kept is at work in place of the one before, with what is typed from now on. @param {string} from @param {string} to @param {Partial<import("./state.js").State>} kept */
export function succeed(from, to, kept) {
  movePending(from, to);
  if (state.current === from) set({ ...kept, current: to }); // else another was put to work meanwhile
}

/** What was typed since stays; where the car is not at this revision any more, Stale is raised. @param {Deed} deed @param {number} now */
async function takeBack({ id, form, current, car, seen, made, wanted, newest }, now) {
  await change(STORES, async (tx) => {
    for (const entry of made.log ?? []) {
      if (newest && entry.id === newest.id) await tx.objectStore("log").put(newest);
      else await tx.objectStore("log").delete(entry.id);
    }
    await undoneIn(tx, id, made.log ?? []);
    if (form) await exchangeIn(tx, id, form, wanted, seen);
    if (car) await put(tx, "cars", { id, car }, now);
    else {
      await moveIn(tx, id, current);
      await removeCar(tx, id, now, current);
    }
  }, { car: id });
  exchangePending(id, form, wanted, seen);
  const revision = car ? now + 1 : 0;
  succeed(id, current, { car, revision });
  await loadNow();
  return revision;
}

/** Take the newest line off the log, and with it what it did to the car; returns that in words. @param {string} id */
export async function takeBackLine(id) {
  const { current, revision, car: before, system } = state;
  const { newest } = await ends(current);
  if (newest?.id !== id) throw new Stale(tr("The log has a newer line, from another window: look at it, then do it again."));
  const { car, says } = await ask({ ask: "undo", car: before, entry: newest, system });
  await inTurn(async () => {
    await change(["cars", "log", "typed"], async (tx) => {
      if (!(await tx.objectStore("log").get(id))) throw new Stale(tr("That line was undone in another window."));
      await tx.objectStore("log").delete(id);
      await undoneIn(tx, current, [newest]);
      await put(tx, "cars", { id: current, car }, revision);
    }, { car: current });
    await loadNow();
  });
  return says;
}

/** Save what was typed in a form to the car. @param {string} form */
export const save = (form) => keep((car, at, asked) => ask({ ask: "keep", form, ...asked, car, at }), form);

/** @param {Change} tx @param {Revised} store @param {string} id @param {number} seen */
export async function remove(tx, store, id, seen) {
  const there = await tx.objectStore(store).get(id);
  if (there && there.revision !== seen) throw stale();
  await tx.objectStore(store).delete(id);
}

/** Remove a car that has just been made; refused where something else has come to belong to it. @param {Change} tx @param {string} id @param {number} seen @param {string} next the car that is at work then */
export async function removeCar(tx, id, seen, next) {
  await remove(tx, "cars", id, seen);
  const setups = await tx.objectStore("setups").getAll();
  const line = await tx.objectStore("log").index("time").getKey(under(id));
  const typed = Object.values(await typedIn(tx, id)).some((texts) => Object.keys(texts).length);
  if (line || typed || setups.some(({ owner }) => owner === id))
    throw new Stale(tr("Something was entered for this car since, so it stays: it can be deleted under Cars and backup."));
  if ((await pageIn(tx)).current === id) await patchPage(tx, { current: next });
}

/** Follow what other windows do. @param {() => void} callback called when `state` is new */
export function follow(callback) {
  onChange(async ({ stores, car }) => {
    const ours = !car || car === state.current || stores.includes("settings");
    if (!ours) return;
    await load();
    callback();
  });
}
