// @ts-check
/**
 * A timer for the bench. It keeps the time of day at which it ends, so neither a locked screen nor
 * a reload stops it; what is shown is always worked out from the clock, never counted.
 * @typedef {{end: number, seen: number, back: number}} Kept ms since 1970: when it ends, when the
 * page last looked; and by how much the clock was set back while it ran
 */

import { all, byId, notice } from "./dom.js";
import { put, recall } from "./local.js";
import { hour, tr } from "./words.js";

const NAME = "timer";
const SLACK = 2_000; // ms; what a network sets a clock right by is less
const part = (/** @type {string} */ name) => byId(`timer-${name}`);
let steady = { wall: Date.now(), run: performance.now() };
let kept = stored();

/** What an earlier page left, if it can be believed. @returns {Kept | undefined} */
function stored() {
  const { end, seen, back } = /** @type {Partial<Kept>} */ (recall(NAME) ?? {});
  return [end, seen, back].every(Number.isFinite) ? /** @type {Kept} */ ({ end, seen, back }) : undefined;
}

/** @param {Kept | undefined} timer */
function keep(timer) {
  kept = timer;
  if (!put(NAME, timer ?? {})) part("doubt").textContent = tr("This browser keeps nothing: a reload ends the timer.");
}

/** "1:05:09" or "5:09"; a begun second counts. @param {number} ms */
function clock(ms) {
  const seconds = Math.ceil(ms / 1000);
  const parts = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  return parts.map((n) => String(n).padStart(2, "0")).join(":").replace(/^(00:)?0?/, "");
}

/** Look at the clock; say once, on any page, that the time is over. */
function look() {
  const now = Date.now();
  if (kept) {
    // A living page knows by the browser's own clock; over a reload it is what is missing at least.
    const back = Math.max(kept.seen - now, steady.wall + performance.now() - steady.run - now);
    const moved = back > SLACK ? { end: kept.end - back, back: kept.back + back } : {};
    const over = kept.seen < kept.end;
    keep({ ...kept, ...moved, seen: now });
    const time = hour(kept.end);
    const away = now - kept.end > SLACK;
    if (over && now >= kept.end)
      notice(away ? tr("The timer ended at {time} while this page was away.", { time }) : tr("The timer ended at {time}.", { time }));
  }
  show(now);
}

/** @param {number} end @param {number} now */
function remaining(end, now) {
  const left = end - now;
  const time = hour(end);
  return left > 0 ? tr("{left} to go, until {time}", { left: clock(left), time }) : tr("Over since {time}, {ago} ago", { time, ago: clock(-left) });
}

/** @param {number} now */
function show(now) {
  steady = { wall: now, run: performance.now() };
  part("stop").hidden = !kept;
  part("entry").hidden = Boolean(kept);
  part("left").textContent = kept ? remaining(kept.end, now) : "";
  const back = kept?.back ? tr("The clock of this device was set back {by} or more meanwhile.", { by: clock(kept.back) }) : "";
  if (back || !kept) part("doubt").textContent = back;
}

/** Start with the minutes typed, else with those of the answer below. */
function start() {
  const typed = /** @type {HTMLInputElement} */ (part("minutes")).value.trim().replace(",", ".");
  const answers = /** @type {HTMLElement[]} */ (all("[data-quantity=pump_longest], [data-quantity=longest]"));
  const minutes = Number(typed || Math.ceil(Number(answers.at(-1)?.dataset.value)));
  if (!(minutes > 0 && minutes < 1e4)) return notice(tr("Timer: enter a number of minutes above 0."));
  keep({ end: Date.now() + minutes * 60_000, seen: Date.now(), back: 0 });
  look();
}

/** Where the page has a timer, let it run. */
export function runTimer() {
  if (!part("left")) return;
  part("start").addEventListener("click", start);
  part("stop").addEventListener("click", () => (keep(undefined), show(Date.now())));
  for (const event of ["pageshow", "focus", "visibilitychange"]) addEventListener(event, look, true);
  addEventListener("storage", () => ((kept = stored()), show(Date.now())));
  setInterval(look, 250);
  look();
}
