// @ts-check
/**
 * Timers for the bench, one a damper, seen on every page of the forms. Each keeps the time of day at
 * which it ends, so neither a locked screen nor a reload stops it; what is shown is always worked
 * out from the clock, never counted.
 * @typedef {{end: number, seen: number, back: number}} Kept ms since 1970: when it ends, when the
 * page last looked; and by how much the clock was set back while it ran
 */

import { all, byId, notice } from "./dom.js";
import { put, recall } from "./local.js";
import { state } from "./state.js";
import { SLUG } from "./ticks.js";
import { hour, tr } from "./words.js";

const NAME = "timers";
const SLACK = 2_000; // ms; what a network sets a clock right by is less
const BUZZ = [300, 150, 300, 150, 300]; // ms on and off
const [RUNNING, AT_REST] = [250, 1000]; // ms from look to look
const PITCH = 880; // Hz; over the noise of a pit, and small loudspeakers have it
let steady = { wall: Date.now(), run: performance.now() };
let kept = stored();
/** Browsers play nothing before a hand has touched the page. @type {AudioContext | undefined} */
let sound;

const rows = () => /** @type {HTMLElement[]} */ (all("#timers [data-timer]"));
const slotOf = (/** @type {HTMLElement} */ row) => row.dataset.timer ?? "";
/** The damper by its letter in the build list and its corner. @param {string} slot */
function named(slot) {
  const { name = "", word = "" } = rows().find((row) => slotOf(row) === slot)?.dataset ?? {};
  const letter = state.typed[SLUG]?.[`name.${slot}`]?.text.trim();
  return letter ? tr("{name}, {where}", { name: letter, where: word }) : name;
}

/** What an earlier page left, as far as it can be believed. @returns {Record<string, Kept>} */
function stored() {
  const found = Object.entries(Object(recall(NAME))).filter(([, timer]) => {
    const { end, seen, back } = /** @type {Partial<Kept>} */ (Object(timer));
    return [end, seen, back].every(Number.isFinite);
  });
  return /** @type {Record<string, Kept>} */ (Object.fromEntries(found));
}

function keep() {
  if (!put(NAME, kept)) byId("timer-doubt").textContent = tr("This browser keeps nothing: a reload ends the timers.");
}

/** "1:05:09" or "5:09"; a begun second counts. @param {number} ms */
function clock(ms) {
  const seconds = Math.ceil(ms / 1000);
  const parts = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  return parts.map((n) => String(n).padStart(2, "0")).join(":").replace(/^(00:)?0?/, "");
}

/** Look at the clock; say once, on any page, which time is over. */
function look() {
  const now = Date.now();
  const sayings = Object.keys(kept).flatMap((slot) => passed(slot, now));
  if (Object.keys(kept).length) keep();
  if (sayings.length) {
    notice(sayings.join(" "));
    ring();
  }
  show(now);
}

/** What there is to say of a timer; it is seen now. @param {string} slot @param {number} now @returns {string[]} */
function passed(slot, now) {
  const timer = kept[slot];
  // A living page knows by the browser's own clock; over a reload it is what is missing at least.
  const back = Math.max(timer.seen - now, steady.wall + performance.now() - steady.run - now);
  const moved = back > SLACK ? { end: timer.end - back, back: timer.back + back } : {};
  const over = timer.seen < timer.end;
  kept[slot] = { ...timer, ...moved, seen: now };
  const { end } = kept[slot];
  if (!over || now < end) return [];
  const says = { timer: named(slot), time: hour(end) };
  return [now - end > SLACK ? tr("{timer}: the timer ended at {time} while this page was away.", says) : tr("{timer}: the timer ended at {time}.", says)];
}

/** Three tones and a buzz, on devices that can. */
function ring() {
  navigator.vibrate?.(BUZZ);
  if (sound?.state !== "running") return;
  for (const n of [0, 1, 2]) {
    const tone = new OscillatorNode(sound, { frequency: PITCH });
    tone.connect(sound.destination);
    tone.start(sound.currentTime + n * 0.45);
    tone.stop(sound.currentTime + n * 0.45 + 0.3);
  }
}

/** @param {number} end @param {number} now */
function remaining(end, now) {
  const left = end - now;
  const time = hour(end);
  return left > 0 ? tr("{left} to go, until {time}", { left: clock(left), time }) : tr("Ended at {time}, {ago} ago", { time, ago: clock(-left) });
}

// What stands there already is not written at each look, or the device would draw it again.
/** @param {Element} place @param {string} text */
function write(place, text) {
  if (place.textContent !== text) place.textContent = text;
}

/** @param {number} now */
function show(now) {
  steady = { wall: now, run: performance.now() };
  for (const row of rows()) {
    const timer = kept[slotOf(row)];
    if (row.hidden !== !timer) row.hidden = !timer;
    const name = named(slotOf(row));
    for (const place of all(`[data-timer=${slotOf(row)}] span span, [data-start=${slotOf(row)}]`)) write(place, name);
    const [button] = all("button", row);
    const label = tr("Stop timer: {damper}", { damper: name });
    if (button.getAttribute("aria-label") !== label) button.setAttribute("aria-label", label);
    write(all("strong", row)[0], timer ? remaining(timer.end, now) : "");
  }
  const timers = Object.values(kept);
  if (byId("timers").hidden !== !timers.length) byId("timers").hidden = !timers.length;
  const most = Math.max(0, ...timers.map(({ back }) => back));
  if (most || !timers.length) write(byId("timer-doubt"), most ? tr("The clock of this device was set back {by} or more meanwhile.", { by: clock(most) }) : "");
}

/** The minutes typed, else those of the answer: of its figures that the form has named, the last that is there. */
function wanted() {
  const typed = /** @type {HTMLInputElement} */ (byId("timer-minutes")).value.trim().replace(",", ".");
  const named = (byId("timer-entry").dataset.takes ?? "").split(" ").map((name) => `[data-quantity="${name}"]`);
  const answers = /** @type {HTMLElement[]} */ (all(named.join()));
  return Number(typed || Math.ceil(Number(answers.at(-1)?.dataset.value)));
}

/** @param {string} slot @param {number} minutes */
export function start(slot, minutes) {
  if (!(minutes > 0 && minutes < 1e4)) return notice(tr("Timer: enter a number of minutes above 0."));
  if ("AudioContext" in window) {
    sound ??= new AudioContext();
    void sound.resume();
  }
  kept[slot] = { end: Date.now() + minutes * 60_000, seen: Date.now(), back: 0 };
  keep();
  look();
}

/** @param {string} slot */
function stop(slot) {
  delete kept[slot];
  keep();
  show(Date.now());
}

/** Let the timers run that an earlier page left, and those that are started here. */
export function runTimer() {
  for (const button of /** @type {HTMLElement[]} */ (all("[data-start]"))) button.addEventListener("click", () => start(button.dataset.start ?? "", wanted()));
  for (const row of rows()) all("button", row)[0].addEventListener("click", () => stop(slotOf(row)));
  for (const event of ["pageshow", "focus", "visibilitychange"]) addEventListener(event, look, true);
  addEventListener("storage", () => ((kept = stored()), show(Date.now())));
  beat();
}

/** The next look is due before this one is done: should one fail, it is not the last. */
function beat() {
  setTimeout(beat, Object.keys(kept).length ? RUNNING : AT_REST);
  look();
}
