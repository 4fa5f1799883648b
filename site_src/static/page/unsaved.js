// @ts-check
/** On pages that show the car itself: what was typed in forms and is not in the car yet, and a button that saves it. */

import { ask } from "./ask.js";
import { all, notice, rewrite } from "./dom.js";
import { isDemo, set, state, textsOf, typedAt } from "./state.js";
import { pastLines, save } from "./store.js";
import { settle } from "./typed.js";
import { tr } from "./words.js";

/** The forms that have some. @type {string[]} */
let found = [];

/** @param {HTMLElement} place */
export async function refresh(place) {
  const ids = all("form.fields").map(({ id }) => id).filter((id) => !isDemo() && Object.keys(state.typed[id] ?? {}).length);
  for (const id of ids) await settle(id);
  const { car, system } = state;
  const forms = ids.map((id) => ({ form: id, typed: textsOf(state.typed[id]), typed_at: typedAt(id) }));
  const { html, outdated } = await ask({ ask: "unsaved", car, system, forms, lines: await pastLines() });
  rewrite(place, html);
  found = Object.keys(outdated);
  set({ outdated: { ...state.outdated, ...outdated } });
}

/** Save all of it, each form as its own button does. */
export async function saveAll() {
  /** @type {Awaited<ReturnType<typeof save>>[]} */
  const backs = [];
  for (const form of found) backs.unshift(await save(form));
  notice(tr("Saved to the car."), async () => {
    let revision;
    for (const back of backs) revision = await back(revision);
  });
}
