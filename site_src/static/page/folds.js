// @ts-check
/** What the user has unfolded in an answer stays so when another answer takes its place. */

import { PANELS, all } from "./dom.js";

/** @type {Set<string>} by page and name */
const unfolded = new Set();
/** @param {Element} fold */
const named = (fold) => `${fold.closest(PANELS)?.id} ${fold.getAttribute("data-fold")}`;

const watch = new MutationObserver((changes) => {
  for (const { target } of changes) {
    for (const fold of all("[data-fold]", /** @type {Element} */ (target))) fold.toggleAttribute("open", unfolded.has(named(fold)));
  }
});
for (const panel of all(PANELS)) watch.observe(panel, { childList: true, subtree: true });
for (const fold of all(`:is(${PANELS}) [data-fold][open]`)) unfolded.add(named(fold)); // kept from last time
addEventListener("toggle", ({ target }) => {
  const fold = /** @type {HTMLDetailsElement} */ (target);
  if (!fold.matches("[data-fold]") || !fold.isConnected) return;
  if (fold.open) unfolded.add(named(fold));
  else unfolded.delete(named(fold));
}, true);
