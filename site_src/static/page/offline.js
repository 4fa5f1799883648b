// @ts-check
/**
 * Whether this page will open with the network gone, and what to do about a new version.
 *
 * `watch` reports a state each time it changes, and sets it as <html data-offline>:
 *   absent  this browser cannot keep the site (a file opened from disk, no service worker)
 *   taking  it is being fetched; `kept` bytes of a `whole` are there
 *   answers checked: what an answer needs is there; the rest is being fetched
 *   failed  it could not be fetched; it will be tried again
 *   barred  something else came in its place: a log-in page, a wrong type; it will be tried again
 *   full    there is no room for it; it will be tried when the page is looked at again
 *   safe    checked: every file is there
 *   lost    files that were there are gone; they are being fetched again
 *   update  a new version is ready; `accept()` changes to it and loads the page again
 *
 * @typedef {"absent" | "taking" | "answers" | "failed" | "barred" | "full" | "safe" | "lost" | "update"} State
 * @typedef {{kept?: number, whole?: number, accept?: () => void}} More
 * @typedef {{ours: boolean, missing: number, needed: number}} Found
 */

const SCRIPT = new URL("../sw.js", import.meta.url);
const RETRY = 30_000; // ms
const LAST_WORDS = 200; // ms, in which what an ended worker has said arrives
const SILENCE = 60_000; // ms without a byte: a browser has ended the worker while it was at it
const SCRIPT_TYPE = /^(text|application)\/(x-)?(java|ecma)script\b/;

/** @param {(state: State, more: More) => void} callback */
export function watch(callback) {
  const workers = navigator.serviceWorker;
  /** @type {ServiceWorkerRegistration | undefined} */
  let registration;
  /** @type {State | undefined} */
  let now;
  let accepted = false;
  /** A worker may be found on looking and be told of by an event. @type {WeakSet<ServiceWorker>} */
  const followed = new WeakSet();
  let [before, kept] = [0, 0]; // bytes on this device when the attempt began, and now
  let full = false;
  let heard = 0; // when a byte came last

  /** @param {State} state @param {More} [more] */
  function say(state, more = {}) {
    if (state === now && state !== "taking" && state !== "answers") return;
    now = state;
    document.documentElement.dataset.offline = state;
    callback(state, more);
  }

  async function begin() {
    [before, full] = [kept, false];
    try {
      registration = await workers.register(SCRIPT, { updateViaCache: "none" });
    } catch (error) {
      const refused = error instanceof DOMException && error.name === "SecurityError";
      return refused ? explain() : fail();
    }
    registration.addEventListener("updatefound", () => follow(registration?.installing));
    follow(registration.installing ?? registration.waiting);
    if (registration.active) return look();
    say("taking", { kept });
    if (isOver()) setTimeout(() => isOver() && stopped(), LAST_WORDS);
  }

  /** Whether an attempt has failed sooner than this page could follow it: no event tells of that. */
  const isOver = () => !registration?.installing && !registration?.waiting && !registration?.active;

  /** Whether the service worker was refused for what the host sent, or because this browser has none to give. */
  async function explain() {
    try {
      const { ok, headers } = await fetch(SCRIPT, { cache: "no-store" });
      if (ok && SCRIPT_TYPE.test(headers.get("Content-Type") ?? "")) return say("absent");
      say("barred");
      later(begin);
    } catch {
      fail();
    }
  }

  /** An attempt has ended without everything. A browser ends one after some minutes, and a link may break: if it has got on, it goes on. */
  async function stopped() {
    await new Promise((resolve) => setTimeout(resolve, LAST_WORDS));
    if (full) {
      say("full");
      whenShown(begin);
    } else if (kept > before) begin();
    else fail();
  }

  /** @param {ServiceWorker | null | undefined} worker */
  function follow(worker) {
    if (!worker || followed.has(worker)) return;
    followed.add(worker);
    worker.addEventListener("statechange", () => {
      if (worker.state === "activated") check();
      if (worker.state === "installed") offerWaiting();
      if (worker.state === "redundant" && !registration?.active) stopped();
    });
  }

  /** Is there a new version, is this one whole? */
  function look() {
    registration?.update().catch(() => {}); // no network: nothing new then
    check();
  }

  /** Ask the service worker whether everything is there, have it fetch what is not. */
  async function check() {
    if (!registration?.active) return;
    full = false;
    let found = await ask(registration.active, "check");
    if (found.ours && found.missing) {
      if (found.needed) say("lost");
      else say("answers", { kept });
      found = await Promise.race([ask(registration.active, "take again"), silence(found)]);
    }
    if (!found.ours) offer(); // another version has taken over: ours is open only until it is closed
    else if (found.missing) {
      if (full) say("full");
      else if (!found.needed) say("failed");
      later(check);
    } else say("safe");
    offerWaiting();
  }

  /** Nothing has come for long. @param {Found} found @returns {Promise<Found>} */
  const silence = (found) =>
    new Promise((resolve) => {
      const timer = setInterval(() => {
        if (performance.now() - heard < SILENCE) return;
        clearInterval(timer);
        resolve(found);
      }, SILENCE / 10);
      heard = performance.now();
    });

  const fail = () => (say("failed"), later(begin));
  const offer = () => say("update", { accept });
  const offerWaiting = () => registration?.active && registration.waiting && offer();

  function accept() {
    accepted = true;
    if (registration?.waiting) registration.waiting.postMessage({ ask: "take over" });
    else location.reload();
  }

  if (!workers || !location.protocol.startsWith("http")) return say("absent");
  workers.addEventListener("message", ({ data }) => {
    full ||= Boolean(data.full);
    kept = data.kept ?? kept;
    heard = performance.now();
    if (now === "taking" || now === "answers") say(now, data);
  });
  workers.startMessages();
  // The page is loaded again only where the user asked for it, never under their hands.
  workers.addEventListener("controllerchange", () => (accepted ? location.reload() : check()));
  document.addEventListener("visibilitychange", () => document.hidden || look());
  begin();
}

/**
 * @param {ServiceWorker} worker @param {"check" | "take again"} question
 * @returns {Promise<Found>}
 */
function ask(worker, question) {
  const { port1, port2 } = new MessageChannel();
  worker.postMessage({ ask: question, page: import.meta.url }, [port2]);
  return new Promise((resolve) => (port1.onmessage = ({ data }) => resolve(data)));
}

/** Once, after a while or as soon as the network is back. @param {() => void} action */
function later(action) {
  const run = () => {
    clearTimeout(timer);
    removeEventListener("online", run);
    action();
  };
  const timer = setTimeout(run, RETRY);
  addEventListener("online", run);
}

/** Once, when the page is looked at again: meanwhile room may have been made. @param {() => void} action */
function whenShown(action) {
  const run = () => {
    if (document.hidden) return;
    document.removeEventListener("visibilitychange", run);
    action();
  };
  document.addEventListener("visibilitychange", run);
}
