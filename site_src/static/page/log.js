// @ts-check
/** The page of the collar log: every touch is an entry, kept before it is shown. */

import { ask } from "./ask.js";
import { all, byId, clear, formById, notice, rewrite, texts } from "./dom.js";
import { now, queue, zone } from "./db.js";
import { state } from "./state.js";
import { LINES, ends, keep, lines, takeBackLine } from "./store.js";
import { tr } from "./words.js";

/** So many lines Python shows at the most; the file of the log holds them all. */
const MOST = Number(byId("log-lines").dataset.most);
let most = LINES;
/** One after the other, however quick the thumb. */
const inTurn = queue();

export async function refresh() {
  const { car, system } = state;
  const reply = await ask({ ask: "log", car, system, entries: await lines(most), now: now(), zone: zone() });
  const { corner, turns } = /** @type {HTMLElement} */ (document.activeElement).dataset;
  const top = byId("log-top");
  rewrite(top, reply.top);
  top.dataset.stays = ""; // until now its buttons were those of the page as built, with the demo car's steps
  byId("log-lines").innerHTML = reply.lines;
  const same = `[data-corner="${corner}"][data-turns="${turns}"]`;
  if (corner) /** @type {HTMLElement | undefined} */ (all(same, top)[0])?.focus();
}

/** @param {Act} act */
const note = (act) => inTurn(() => keep((car, at) => ask({ ask: "collar", car, at, act })));

/** An entry from what was written. @param {"note" | "check"} kind @param {string} said */
async function write(kind, said) {
  const form = formById(`log-${kind}`);
  const sent = texts(form);
  await note({ kind, ...sent });
  clear(form, sent);
  notice(said);
}

/** @type {Record<string, (button: HTMLElement) => Promise<unknown>>} */
export const actions = {
  turn: ({ dataset: { corner = "", turns = "" } }) => note({ kind: "turn", corner, turns }),
  note: () => write("note", tr("Saved.")),
  check: () => write("check", tr("The check is saved.")),
  base: () => note({ kind: "base" }).then(() => notice(tr("Base set: net turns are counted from here."))),
  home: async () => {
    const { base } = await ends(state.current);
    const back = await inTurn(() => keep((car, at) => ask({ ask: "collar", car, at, act: { kind: "home", base } })));
    notice(tr("Saved: every collar is at today's base."), back);
  },
  learn: ({ dataset: { end, what, value, u } }) => {
    const taught = /** @type {Pick<Act, "end" | "what">} */ ({ end, what }); // as Python has written the button
    return note({ kind: "learn", ...taught, value: Number(value), u: Number(u) });
  },
  "take-back": async ({ dataset: { id = "" } }) => notice(await inTurn(() => takeBackLine(id))),
  csv: async (button) => (await import("./backup.js")).actions.csv(button),
  earlier: async () => {
    most = Math.min(4 * most, MOST);
  },
};
