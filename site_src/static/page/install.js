// @ts-check
/**
 * How this device puts the page on its home screen. Help always says it; the start list says it
 * once in a visit, when everything is on the device, until the user says "Don't show again".
 */

import { all, byId } from "./dom.js";
import { put, recall } from "./local.js";
import { open } from "./moving.js";

const NEVER = "install-never";
/** The browser's own question, where it has offered to ask it. @type {BeforeInstallPromptEvent | undefined} */
let prompt;
let safe = false;
let over = false; // it was seen in this visit

/** @returns {"ios" | "android" | "android-plus" | "desktop" | "bookmark"} a way in Help */
function way() {
  const { userAgent: agent, maxTouchPoints } = navigator;
  // A tablet that asks for the pages of a desktop is told by its fingers.
  if (/iPhone|iPad|iPod/.test(agent) || (/Macintosh/.test(agent) && maxTouchPoints > 1)) return "ios";
  if (/Android/.test(agent)) return /Firefox\//.test(agent) ? "android-plus" : "android";
  return /Chrome\//.test(agent) ? "desktop" : "bookmark";
}

const standalone = () =>
  matchMedia("(display-mode: standalone)").matches || Boolean(navigator.standalone);

function show() {
  for (const line of /** @type {HTMLElement[]} */ (all("[data-way]"))) line.hidden = Boolean(prompt) || line.dataset.way !== way();
  for (const button of /** @type {HTMLElement[]} */ (all('[data-do="install"]'))) button.hidden = !prompt;
  byId("ways").hidden = standalone() || !location.protocol.startsWith("http");
  byId("install").hidden = !safe || over || standalone() || recall(NEVER) === true;
}

/** Everything is on this device: now it is worth having at hand. */
export function offer() {
  safe = true;
  show();
}

export const actions = {
  install: async () => {
    await prompt?.prompt();
    prompt = undefined; // it can be asked once
    show();
  },
  "install-never": () => {
    put(NEVER, true);
    show();
  },
};

addEventListener("beforeinstallprompt", (event) => {
  event.preventDefault();
  prompt = event;
  show();
});
addEventListener("appinstalled", () => {
  over = true;
  show();
});
// This runs before the page changes: the one that is open is the one that is left.
addEventListener("hashchange", () => {
  over ||= open() === "all" && !byId("install").hidden;
  show();
});

// The same words on the start list.
byId("install-way").append(...all("#ways [data-way]").map((line) => line.cloneNode(true)));
show();
