// @ts-check
/** The page of the car: the other cars, and this one for another device. */

import { ask } from "./ask.js";
import { all, byId, notice } from "./dom.js";
import { read } from "./db.js";
import { state } from "./state.js";
import { tr } from "./words.js";

const shown = byId("car-shared");
let link = "";
let sharedOf = "";

/** The other cars, each a touch away. */
export async function refresh() {
  if (sharedOf !== state.current) close();
  const cars = await read((tx) => tx.objectStore("cars").getAll());
  const others = cars.filter(({ id, gone }) => !gone && id !== state.current);
  byId("car-others").replaceChildren(
    ...others.map(({ id, car }) => {
      const button = document.createElement("button");
      Object.assign(button, { type: "button", textContent: tr("Work on “{name}”", { name: String(car?.name ?? "?") }) });
      Object.assign(button.dataset, { do: "switch-car", id });
      return button;
    }),
  );
}

function close() {
  link = "";
  shown.hidden = true;
}

/** Where this page is; one opened from a file has no address to give. */
const address = () => (location.protocol.startsWith("http") ? location.href.split("#")[0] : "");

/** @type {Record<string, (button: HTMLElement) => Promise<unknown>>} */
export const actions = {
  share: async () => {
    if (!shown.hidden) return close();
    const reply = await ask({ ask: "share", car: state.car, address: address() });
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
  "switch-car": async (button) => (await import("./cars.js")).actions["switch-car"](button),
};
