// @ts-check
/**
 * What the page remembers on this device: the units, the cars and which of them is at work, what
 * was typed by form (for each car apart), where the collars were turned.
 *
 * `state` is what this window shows; it changes when a change has been kept. Only what is typed
 * changes at once, because it stands in the fields already.
 *
 * @typedef {{system: System, last: string, current: string, car: Car | null, revision: number,
 *   typed: Record<string, Texts>, lost: boolean}} State `current` and `car` are empty for the demo
 *   car; `lost` says that the browser had cleared what this window had kept
 */

import { ask } from "./ask.js";
import { change, fresh, now, onChange, put, read, Stale } from "./db.js";
import * as local from "./local.js";
import { tr } from "./words.js";

/** @type {State} */
export const state = { system: "metric", last: "", current: "", car: null, revision: 0, typed: {}, lost: false };

const ALL = [-Infinity, Infinity];
const TRIES = 40; // each time another window was quicker
/** @type {Store[]} */
const KEPT_WITH_A_CAR = ["cars", "log", "typed", "settings"];
const LEFT = "unkept";
/** What was typed and is not kept yet, or could not be: by car, by form. @type {Record<string, Record<string, Texts>>} */
const unkept = {};

/** Take what is kept into `state`. Raises Trouble. */
export async function load() {
  Object.assign(
    state,
    await read(async (tx) => {
      const page = /** @type {Settings} */ ((await tx.objectStore("settings").get("page")) ?? {});
      const record = page.current ? await tx.objectStore("cars").get(page.current) : undefined;
      const current = record?.id ?? "";
      return {
        system: page.system ?? "metric",
        last: page.last ?? "",
        current,
        car: record?.car ?? null,
        revision: record?.revision ?? 0,
        typed: await typedFor(tx, current),
      };
    }),
  );
  showUnkept();
}

function showUnkept() {
  for (const [form, texts] of Object.entries(unkept[state.current] ?? {})) state.typed[form] = { ...state.typed[form], ...texts };
}

/** Restore text that an earlier page had not saved. */
export async function restoreUnsaved() {
  const left = local.recall(LEFT);
  if (!left) return;
  local.put(LEFT, null);
  if (left.system !== state.system) return; // the same figures would mean something else
  const there = await read((tx) => tx.objectStore("cars").getAllKeys()).catch(() => []);
  for (const [car, forms] of Object.entries(left.unkept))
    if (["", ...there].includes(car)) for (const [form, texts] of Object.entries(forms)) keepTexts(car, form, texts);
  showUnkept();
}

addEventListener("pagehide", () => {
  const some = Object.values(unkept).some((forms) => Object.values(forms).some((texts) => Object.keys(texts).length));
  if (some) local.put(LEFT, { system: state.system, unkept });
});
// The page is back as it was, and with it all that it had not kept.
addEventListener("pageshow", ({ persisted }) => persisted && local.put(LEFT, null));

/** @param {Transaction} tx @param {string} car @returns {Promise<Record<string, Texts>>} */
async function typedFor(tx, car) {
  const range = IDBKeyRange.bound([car], [car, []]);
  const records = await tx.objectStore("typed").getAll(range);
  return Object.fromEntries(records.map(({ form, texts }) => [form, texts]));
}

/** What is kept under "page", as it is now. */
export const settings = () => ({ system: state.system, last: state.last, current: state.current });

/** Keep the open page or the car at work. @param {{last?: string, current?: string}} part */
export async function remember(part) {
  Object.assign(state, part);
  await change(["settings"], (tx) => tx.objectStore("settings").put(settings(), "page"), { durable: false });
}

/** Keep what was typed in one field. @param {string} form @param {string} name @param {string} text */
export async function type(form, name, text) {
  state.typed[form] = { ...state.typed[form], [name]: text };
  await keepTexts(state.current, form, { [name]: text });
}

/** Keep texts beside what else is typed in a form. @param {string} car @param {string} form @param {Texts} texts */
async function keepTexts(car, form, texts) {
  const mine = (unkept[car] ??= {});
  mine[form] = { ...mine[form], ...texts };
  await change(
    ["typed"],
    async (tx) => {
      const there = await tx.objectStore("typed").get([car, form]);
      await tx.objectStore("typed").put({ car, form, texts: { ...there?.texts, ...texts } });
    },
    { car, durable: false },
  );
  for (const [name, text] of Object.entries(texts)) if (mine[form]?.[name] === text) delete mine[form][name];
}

/** Keep these texts as all that is typed in a form. @param {string} form @param {Texts} texts */
export async function retype(form, texts) {
  const car = state.current;
  const mine = (unkept[car] ??= {});
  const [typed, pending] = [state.typed[form], mine[form]];
  state.typed[form] = texts; // at once: what is typed from now on comes on top
  delete mine[form];
  try {
    await change(["typed"], (tx) => tx.objectStore("typed").put({ car, form, texts }), { car });
  } catch (error) {
    state.typed[form] = { ...typed, ...state.typed[form] };
    mine[form] = { ...pending, ...mine[form] };
    throw error;
  }
}

/**
 * Change the units, and with them what is typed for any car.
 * @param {System} system @param {(typed: Record<string, Texts>) => Promise<Record<string, Texts>>} convert
 */
export async function changeSystem(system, convert) {
  const records = await read((tx) => tx.objectStore("typed").getAll());
  for (const record of records) record.texts = (await convert({ [record.form]: record.texts }))[record.form] ?? record.texts;
  await change(["typed", "settings"], async (tx) => {
    for (const record of records) await tx.objectStore("typed").put(record);
    await tx.objectStore("settings").put({ ...settings(), system }, "page");
  });
  await load();
}

/** The log's newest entry and newest base of a car. @param {string} car */
const ends = (car) =>
  read(async (tx) => {
    const last = (/** @type {"time" | "kind"} */ index, /** @type {IDBKeyRange} */ range) =>
      tx.objectStore("log").index(index).openCursor(range, "prev").then((at) => at?.value);
    return {
      newest: await last("time", IDBKeyRange.bound([car, ALL[0]], [car, ALL[1]])),
      base: await last("kind", IDBKeyRange.bound([car, "base", ALL[0]], [car, "base", ALL[1]])),
    };
  });

/** What an entry of the log needs to know. @returns {Promise<Moment>} */
async function moment() {
  const car = state.current || fresh();
  const { newest, base } = await ends(car);
  // A clock that was set back must not put the newest line below older ones.
  const time = Math.max(now(), (newest?.time ?? 0) + 0.01);
  return { id: fresh(), car, time, zone: -60 * new Date().getTimezoneOffset(), based: Boolean(base) };
}

/**
 * Change the car at work, what its log says, and what is typed in `form`, as one change. `make` is
 * asked again, for the newer car, where another window was quicker. Returns how to take it back.
 * @param {(car: Car | null, at: Moment) => Promise<Made>} make @param {string} [form]
 * @returns {Promise<() => Promise<void>>}
 */
export async function keep(make, form = "") {
  for (let left = TRIES; ; left--) {
    const before = { car: state.car, revision: state.revision, current: state.current, typed: state.typed[form] ?? {} };
    const at = await moment();
    const made = await make(before.car, at);
    try {
      await write(at.car, made, form, before.revision);
      return () => takeBack(at.car, before, made, form);
    } catch (error) {
      if (!(error instanceof Stale) || !left) throw error;
      await load();
    }
  }
}

/**
 * `seen` is the revision that `made` was made of: the state may have moved on while Python worked.
 * @param {string} id @param {Made} made @param {string} form @param {number} seen
 */
async function write(id, made, form, seen) {
  const { car, log = [], typed } = made;
  let lost = false;
  const record = await change(KEPT_WITH_A_CAR, async (tx) => {
    const there = await tx.objectStore("cars").get(id);
    lost = seen > 0 && !there;
    const kept = await put(tx, "cars", { id, car }, seen);
    for (const entry of log) await tx.objectStore("log").add(entry);
    if (!state.current) await move(tx, "", id);
    if (form && typed) await tx.objectStore("typed").put({ car: id, form, texts: typed });
    await tx.objectStore("settings").put({ ...settings(), current: id }, "page");
    return kept;
  }, { car: id });
  if (!state.current && unkept[""]) [unkept[id], unkept[""]] = [unkept[""], {}];
  Object.assign(state, { current: id, car, revision: record.revision, lost: state.lost || lost });
  if (form && typed) {
    delete unkept[id]?.[form];
    state.typed[form] = typed;
  }
}

/** What was typed goes from one car to another. @param {Change} tx @param {string} from @param {string} to */
async function move(tx, from, to) {
  for (const [form, texts] of Object.entries(await typedFor(tx, from))) {
    await tx.objectStore("typed").delete([from, form]);
    await tx.objectStore("typed").put({ car: to, form, texts });
  }
}

/** @param {string} id @param {{car: Car | null, revision: number, current: string, typed: Texts}} before @param {Made} made @param {string} form */
async function takeBack(id, before, made, form) {
  const seen = before.revision + 1;
  await change(KEPT_WITH_A_CAR, async (tx) => {
    if (before.car) await put(tx, "cars", { id, car: before.car }, seen);
    else {
      await remove(tx, "cars", id, seen);
      await move(tx, id, before.current);
    }
    for (const entry of made.log ?? []) await tx.objectStore("log").delete(entry.id);
    if (form && made.typed) await tx.objectStore("typed").put({ car: before.current, form, texts: before.typed });
    await tx.objectStore("settings").put({ ...settings(), current: before.current }, "page");
  }, { car: id });
  await load();
}

/** Take the newest line off the log, and with it what it did to the car. @param {string} id */
export async function takeBackLine(id) {
  const { current, revision, car: before } = state;
  const { newest } = await ends(current);
  if (newest?.id !== id) throw new Stale(tr("The log has a newer line, from another window: look at it, then do it again."));
  const { car } = await ask({ ask: "undo", car: before, entry: newest });
  const record = await change(["cars", "log"], async (tx) => {
    if (!(await tx.objectStore("log").get(id))) throw new Stale(tr("That line was taken back in another window."));
    await tx.objectStore("log").delete(id);
    return put(tx, "cars", { id: current, car }, revision);
  }, { car: current });
  Object.assign(state, { car, revision: record.revision });
}

/** @param {Change} tx @param {Revised} store @param {string} id @param {number} seen */
export async function remove(tx, store, id, seen) {
  const there = await tx.objectStore(store).get(id);
  if (there && there.revision !== seen)
    throw new Stale(tr("This was changed in another window meanwhile: look at it, then do it again."));
  await tx.objectStore(store).delete(id);
}

/** Follow what other windows do. @param {() => void} callback called when `state` is new */
export function follow(callback) {
  onChange(async ({ stores, car }) => {
    const ours = !car || car === state.current || stores.includes("settings");
    if (!ours) return;
    const { last } = state;
    await load();
    state.last = last; // each window has its own page open
    callback();
  });
}

export { ends, fresh, now };
