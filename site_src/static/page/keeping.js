// @ts-check
/**
 * When the page is taken onto this device, and what is said about that. The first answer comes
 * first: until then the network is Python's alone, however slow it is.
 */

import { onArrival } from "./ask.js";
import { byId } from "./dom.js";
import * as install from "./install.js";
import { watch } from "./offline.js";
import { tr } from "./words.js";

const root = document.documentElement;
const IDLE = 60_000; // ms without a byte of Python or a touch: then it need not be waited for

const SAYS = {
  absent: root.dataset.alone
    ? tr("All of it is in this one file. What you type is kept by this browser only, or not at all: make a backup file.")
    : tr("This browser cannot keep the page: it needs the network."),
  taking: tr("Downloading everything to this device …"),
  answers: tr("Answers work without a network now; guides and the rest are still coming …"),
  failed: tr("Not everything is on this device yet. Not ready for the track."),
  barred: tr(
    "The network or the host does not send the files of this site as they are: is there a page to log in first? Not ready for the track; it is tried again.",
  ),
  full: tr("This device has no room for the whole site: clear some, then come back. Not ready for the track."),
  safe: tr("Ready for the track: all on this device."),
  lost: tr("Files were lost on this device; downloading them again. Not ready for the track."),
  update: tr("A new version is ready."),
};

/** "3.2 of 11.7 MB" @param {number} there @param {number} all */
function amount(there, all) {
  const [done, whole] = [there, Math.max(there, all)].map((bytes) =>
    (bytes / 1e6).toFixed(1).replace(".", root.dataset.decimal ?? "."),
  );
  return tr("{done} of {whole} MB", { done, whole });
}

/** @type {Parameters<typeof watch>[0]} */
function say(now, { kept, whole, accept }) {
  const line = byId("offline-state");
  line.textContent = SAYS[now] + (kept && whole ? ` ${amount(kept, whole)}` : "");
  if (now === "safe") install.offer();
  if (!accept) return;
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = tr("Update now");
  button.addEventListener("click", accept);
  line.append(" ", button);
}

let begun = false;

/** See that everything is on this device: Python has answered, or will not. */
export function watchOnce() {
  if (begun) return;
  begun = true;
  clearTimeout(timer);
  watch(say);
}

let timer = setTimeout(watchOnce, IDLE);

function waitOn() {
  if (begun) return;
  clearTimeout(timer);
  timer = setTimeout(watchOnce, IDLE);
}

for (const touch of ["pointerdown", "keydown", "scroll"]) addEventListener(touch, waitOn, { passive: true });
onArrival((arrived, of) => {
  waitOn();
  if (!begun && root.dataset.engine === "starting")
    byId("offline-state").textContent = tr("Downloading: {amount}.", { amount: amount(arrived, of) });
});
