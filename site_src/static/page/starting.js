// @ts-check
/**
 * How the page starts. Each state follows the one before and is in <html data-engine>:
 *
 *   off       as the page was built: no module has run
 *   starting  this device is asked what it keeps, then the open page is shown and its question goes
 *             to Python, which comes up meanwhile
 *   live      Python is up, and the first question has its answer or a sentence in its panel
 *   failed    Python cannot be brought up in any way: a sentence says so, and whose answers these are
 */

import { again, up } from "./ask.js";
import { belongs, forms, isAsked, refresh, say, tell } from "./answering.js";
import { byId } from "./dom.js";
import { unfold } from "./filling.js";
import { open, show } from "./moving.js";
import { set, state } from "./state.js";
import { begin, follow } from "./store.js";
import { tr } from "./words.js";

const root = document.documentElement;

/** Start; what comes last is in `then`, each thing whatever became of those before it. @param {{ended: () => void, then: (() => unknown)[]}} steps */
export async function start({ ended, then }) {
  set({ engine: "starting" });
  const first = open();
  forms.filter(({ id }) => id === first).forEach(unfold);
  again?.then(({ html }) => {
    if (isAsked(first)) return; // with what is typed or kept now
    say(first, html);
    performance.mark("first-answer");
  }).catch(() => {}); // it is asked again below, and says so
  await begin().catch(later);
  follow(refresh);
  if (root.dataset.last) belongs(first);
  byId("engine-state").textContent = root.dataset.last
    ? tr("Starting: the answer is from last time.")
    : tr("Starting: the answers are the demo car's.");
  show(true);
  await answered();
  ended();
  if (state.engine !== "live") return;
  for (const step of then) await Promise.resolve().then(step).catch(later);
}

/** From starting to live or failed. */
async function answered() {
  const asked = refresh();
  asked.catch(() => {}); // looked at once Python is up
  try {
    await up;
  } catch (error) {
    byId("engine-state").textContent = tr(
      "The calculator did not start on this device, so the answers are the demo car's. Close other pages, then load this one again.",
    );
    set({ engine: "failed" });
    return console.error(error);
  }
  await asked.catch(later);
  set({ engine: "live" });
  performance.mark("engine-live");
}

/** Say it, or have the browser report it, and go on. @param {unknown} error */
function later(error) {
  Promise.reject(error).catch(tell);
}
