// @ts-check
/** The page of the car: the other cars, and this one for another device. */

import { ask } from "./ask.js";
import { nameOf } from "./backup.js";
import * as cars from "./cars.js";
import { onChange } from "./db.js";
import { all, byId, notice } from "./dom.js";
import { pageAddress } from "./moving.js";
import { state } from "./state.js";
import { tr } from "./words.js";

const shown = byId("car-shared");
let link = "";
let sharedOf = "";
/** The car whose others are listed; typing in a car changes none of them. @type {string | undefined} */
let listedOf;

onChange(({ stores }) => stores.includes("cars") && (listedOf = undefined));
addEventListener("hashchange", () => (listedOf = undefined));

/** The other cars, each a touch away. */
export async function refresh() {
  if (sharedOf !== state.current) close();
  if (listedOf === state.current) return;
  listedOf = state.current; // before it is read: what changes meanwhile has it listed again
  const list = await cars.atHand().catch((error) => {
    listedOf = undefined;
    throw error;
  });
  const others = list.filter(({ id }) => id !== state.current);
  byId("car-others").replaceChildren(
    ...others.map((other) => {
      const button = document.createElement("button");
      Object.assign(button, { type: "button", textContent: tr("Work on “{name}”", { name: nameOf(other) }) });
      Object.assign(button.dataset, { do: "switch-car", id: other.id });
      return button;
    }),
  );
}

function close() {
  link = "";
  shown.hidden = true;
}

/** @type {Record<string, (button: HTMLElement) => Promise<unknown>>} */
export const actions = {
  share: async () => {
    if (!shown.hidden) return close();
    const reply = await ask({ ask: "share", car: state.car, address: pageAddress() });
    link = reply.link;
    sharedOf = state.current;
    byId("car-code").innerHTML = reply.html;
    for (const button of /** @type {HTMLElement[]} */ (all("[data-do='copy-link'], [data-do='send-link']", shown)))
      button.hidden = !link || (button.dataset.do === "send-link" && !navigator.share);
    shown.hidden = false;
  },
  "copy-link": async () => {
    await navigator.clipboard.writeText(link);
    notice(tr("The link is copied."));
  },
  "send-link": async () => {
    await navigator.share({ title: String(state.car?.name ?? ""), url: link }).catch(() => {}); // put off
  },
  "switch-car": cars.actions["switch-car"],
};
