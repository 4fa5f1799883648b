// @ts-check
/**
 * What was typed, by car, form and field: shown at once, kept one field at a time.
 *
 * Everything else that changes typed texts (a keep, an undo, a conversion) says what it saw and
 * what it wants (`merged`): a text typed since is another one than it saw, even where it reads the
 * same, and stays.
 *
 * @typedef {Entered & {car: string | null, form: string, name: string, by?: string}} Edit a text to
 *   be kept; the car is null until this device has said which one is at work; `by` a page that left it
 */

import { ask } from "./ask.js";
import { change, fresh, queue, read, under } from "./db.js";
import { byId, formById } from "./dom.js";
import * as local from "./local.js";
import { set, setTyped, state, textsOf } from "./state.js";

const LEFT = "unkept";
const MINE = fresh();
/** Not kept yet, or could not be; the oldest first. @type {Set<Edit>} */
const pending = new Set();

/** @type {(value?: unknown) => void} */
let tellKnown;
/** Settles once this device has said what it keeps, or cannot say it. */
export const known = new Promise((resolve) => (tellKnown = resolve));
/** One change after the other. */
export const inTurn = queue(known);

/** From now on texts are typed for the car at work, and so were those that are there already. */
export function becomeKnown() {
  for (const edit of pending) edit.car ??= state.current;
  set({ known: true });
  tellKnown();
}

/** @param {Entered | undefined} one @param {Entered | undefined} other */
const same = (one, other) =>
  one?.text === other?.text && one?.system === other?.system && one?.time === other?.time && one?.undone?.length === other?.undone?.length;

/** `there` with all that differs between what was `seen` and what is `wanted`, but where it has come to differ itself. @param {Entries | undefined} there @param {Entries} seen @param {Entries} wanted @returns {Entries} */
function merged(there = {}, seen, wanted) {
  const made = { ...there };
  for (const name of Object.keys({ ...seen, ...wanted })) {
    if (same(seen[name], wanted[name]) || !same(there[name], seen[name])) continue;
    if (wanted[name]) made[name] = wanted[name];
    else delete made[name];
  }
  return made;
}

/** @param {Edit} edit @returns {Entries} */
const entryOf = ({ name, text, system, time }) => ({ [name]: { text, system, time } });

/** Whether a newer text than this is kept for its field, or this one has been taken out since. @param {Edit} edit @param {TypedRecord | undefined} there */
const isOlder = ({ name, time }, there) => (there?.texts[name]?.time ?? 0) > time || (there?.removed?.[name] ?? -1) >= time;

/** Keep what is typed in one field. @param {string} form @param {string} name @param {string} text */
export function type(form, name, text) {
  return take({ car: state.known ? state.current : null, form, name, text, system: state.system, time: Date.now() });
}

/** @param {Edit} edit */
function take(edit) {
  const { car, form, name } = edit;
  for (const one of pending) if (one.car === car && one.form === form && one.name === name) pending.delete(one);
  pending.add(edit);
  leave();
  if (car === null || car === state.current)
    set({
      typed: { ...state.typed, [form]: { ...state.typed[form], ...entryOf(edit) } },
      outdated: { ...state.outdated, [form]: (state.outdated[form] ?? []).filter((one) => one !== name) },
    });
  return inTurn(() => write(edit));
}

/** Not kept yet, it waits in local storage, where it is at once: the database may be busy, and the page killed. */
function leave() {
  const left = local.recall(LEFT);
  const others = left ? edits(left).filter(({ by }) => by !== MINE) : [];
  const all = [...others, ...Array.from(pending, (edit) => ({ ...edit, by: MINE }))];
  if (left || all.length) local.put(LEFT, all.length ? all : null);
}

/** @param {Edit} edit */
async function write(edit) {
  const { car, form } = edit;
  if (!pending.has(edit) || car === null) return; // typed on since: that comes next
  await change(
    ["typed"],
    async (tx) => {
      const there = await tx.objectStore("typed").get([car, form]);
      const isOld = edit.by !== undefined && isOlder(edit, there); // its page lives, and more was typed there
      if (!isOld) await tx.objectStore("typed").put({ ...there, car, form, texts: { ...there?.texts, ...entryOf(edit) } });
    },
    { car, durable: false },
  );
  pending.delete(edit);
  leave();
}

/** What is typed for a car: as it is kept, and over it what is not kept yet. @param {string} car @param {Record<string, Entries>} forms */
export function withPending(car, forms) {
  for (const edit of pending)
    if (edit.car === car || edit.car === null) forms[edit.form] = { ...forms[edit.form], ...entryOf(edit) };
  return forms;
}

/** @param {Transaction} tx @param {string} car @returns {Promise<Record<string, Entries>>} */
export async function typedIn(tx, car) {
  const records = await tx.objectStore("typed").getAll(under(car));
  return Object.fromEntries(records.map(({ form, texts }) => [form, texts]));
}

/** Change what is typed in a form of the car at work from what was seen to what is wanted. @param {string} form @param {Entries} seen @param {Entries} wanted */
export async function exchange(form, seen, wanted) {
  const car = state.current;
  show(form, seen, wanted); // at once: what is typed from now on comes on top
  try {
    await inTurn(async () => {
      await change(["typed"], (tx) => exchangeIn(tx, car, form, seen, wanted), { car });
      exchangePending(car, form, seen, wanted);
      if (state.current === car) show(form, seen, wanted); // it may have been read again meanwhile
    });
  } catch (error) {
    if (state.current === car) show(form, wanted, seen);
    throw error;
  }
}

/** @param {string} form @param {Entries} seen @param {Entries} wanted */
export function show(form, seen, wanted) {
  setTyped({ ...state.typed, [form]: merged(state.typed[form], seen, wanted) });
}

/** @param {Change} tx @param {string} car @param {string} form @param {Entries} seen @param {Entries} wanted */
export async function exchangeIn(tx, car, form, seen, wanted) {
  const there = await tx.objectStore("typed").get([car, form]);
  const removed = { ...there?.removed };
  for (const [name, { time }] of Object.entries(seen)) if (!wanted[name]) removed[name] = time;
  await tx.objectStore("typed").put({ car, form, texts: merged(there?.texts, seen, wanted), removed });
}

/** The same for a text that could not be kept. @param {string} car @param {string} form @param {Entries} seen @param {Entries} wanted */
export function exchangePending(car, form, seen, wanted) {
  for (const edit of pending) {
    const { name } = edit;
    if (edit.car !== car || edit.form !== form || !same(edit, seen[name])) continue;
    if (wanted[name]) Object.assign(edit, wanted[name]);
    else pending.delete(edit);
  }
  leave();
}

/** What was typed goes from one car to another. @param {Change} tx @param {string} from @param {string} to */
export async function moveIn(tx, from, to) {
  for (const { form, texts, removed } of await tx.objectStore("typed").getAll(under(from))) {
    const there = await tx.objectStore("typed").get([to, form]);
    await tx.objectStore("typed").delete([from, form]);
    await tx.objectStore("typed").put({ car: to, form, texts: { ...there?.texts, ...texts }, removed: { ...there?.removed, ...removed } });
  }
}

/** The same for what is not kept yet; once the move is. @param {string} from @param {string} to */
export function movePending(from, to) {
  for (const edit of pending) if (edit.car === from) edit.car = to;
  leave();
}

/** The same typings with other texts; those without one are left out. @param {Entries} entries @param {Texts} texts @param {System} system @returns {Entries} */
export function retexted(entries, texts, system) {
  const named = Object.entries(entries).filter(([name]) => name in texts);
  return Object.fromEntries(named.map(([name, entry]) => [name, { ...entry, text: texts[name], system }]));
}

/** Kinds of lines of the log that tell of what is known, while nothing on the car has moved: as Python has written them. */
const AT_HAND = byId("log-lines").dataset.atHand?.split(" ") ?? [];

/** Lines of the log are undone: each text that was typed since says so beside it. @param {Change} tx @param {string} car @param {LogEntry[]} lines */
export async function undoneIn(tx, car, lines) {
  const work = lines.filter(({ kind }) => !AT_HAND.includes(kind));
  for (const record of await tx.objectStore("typed").getAll(under(car))) {
    if (!formById(record.form)?.matches(".fields")) continue; // the build list has readings of its own
    const marked = Object.entries(record.texts).map(([name, entry]) => {
      const paths = work.filter(({ time }) => entry.time / 1000 > time).flatMap(({ was = {} }) => Object.keys(was));
      return [name, paths.length ? { ...entry, undone: [...(entry.undone ?? []), ...paths] } : entry];
    });
    await tx.objectStore("typed").put({ ...record, texts: Object.fromEntries(marked) });
  }
}

/** See that nothing is typed in a form in other units than those of the page. @param {string} form */
export async function settle(form) {
  for (;;) {
    const { system, current, typed } = state;
    const [first] = Object.values(typed[form] ?? {}).filter((entry) => entry.system !== system);
    if (!first) return;
    const others = Object.entries(typed[form]).filter(([, entry]) => entry.system === first.system);
    const seen = Object.fromEntries(others);
    const all = { [form]: textsOf(seen) };
    const reply = await ask({ ask: "convert", all, before: first.system, system });
    if (state.system !== system || state.current !== current) continue;
    exchange(form, seen, retexted(seen, reply.typed[form] ?? all[form], system)); // in `state` at once
  }
}

/** Restore text that an earlier page had not saved. What it left may be older than what was saved: a browser that is killed forgets that this was taken up. */
export async function takeUp() {
  const left = local.recall(LEFT);
  if (!left) return;
  local.put(LEFT, null);
  const { ids, typed } = await read(async (tx) => ({
    ids: await tx.objectStore("cars").getAllKeys(),
    typed: await tx.objectStore("typed").getAll(),
  })).catch(() => ({ ids: [], typed: [] }));
  const newer = [...pending];
  /** @param {Edit} edit */
  const isOld = (edit) => isOlder(edit, typed.find(({ car, form }) => car === edit.car && form === edit.form));
  await Promise.all(
    edits(left)
      .map((edit) => ({ ...edit, car: edit.car ?? state.current, by: edit.by ?? "" }))
      .filter((edit) => ["", ...ids].includes(edit.car) && !isOld(edit))
      .filter((edit) => !newer.some(({ car, form, name }) => car === edit.car && form === edit.form && name === edit.name))
      .map(take),
  );
}

/** @param {NonNullable<Remembered["unkept"]>} left @returns {Edit[]} */
function edits(left) {
  if (Array.isArray(left)) return left;
  const { system, unkept } = left; // as pages left it until units stood beside each text
  return Object.entries(unkept).flatMap(([car, forms]) =>
    Object.entries(forms).flatMap(([form, texts]) =>
      Object.entries(texts).map(([name, text]) => ({ car, form, name, text, system, time: 0 })),
    ),
  );
}

addEventListener("pagehide", () => pending.size && leave());
// The page is back as it was, and with it all that it had not kept.
addEventListener("pageshow", ({ persisted }) => {
  if (persisted) for (const edit of pending) inTurn(() => write(edit));
});
