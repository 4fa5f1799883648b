// @ts-check
/**
 * Python at work while nobody waits for it. A browser keeps the compiled code of the runtime on the
 * device once enough of it has run for long enough, and Python that comes from its image runs
 * hardly any. So each form is asked once, in turn; from the next start on the code is there. It is
 * done once for each version, on the first visit on which the runtime came from the device.
 */

import { ask } from "./ask.js";
import { put, recall } from "./local.js";

const DONE = "practised";
const PAUSE = 100; // ms, in which the user's own question comes first
const KEEPING = 5000; // ms, in which the browser finds that nothing more is compiled and keeps it

/** @param {number} time */
const after = (time) => new Promise((resolve) => setTimeout(resolve, time));

/** @param {Question<"answer">[]} questions */
export async function practise(questions) {
  const { made, boot } = document.documentElement.dataset;
  if (boot !== "restored" || recall(DONE) === made) return;
  for (const question of questions) {
    await after(PAUSE);
    /** @type {Question<"answer" | "doubts" | "figures">[]} */
    const parts = [question, { ...question, ask: "doubts" }, { ...question, ask: "figures" }];
    await Promise.allSettled(parts.map(ask)); // nobody has asked: nobody need be told
  }
  await after(KEEPING);
  put(DONE, made);
}
