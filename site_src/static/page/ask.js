// @ts-check
/**
 * Questions to Python in its worker. Each has a number; a reply finds its question by it.
 *
 * Python is restored from its image. If anything goes wrong with that, now or at any later
 * question, its worker is ended and another starts Python the ordinary way and gets all
 * questions that are still open. A question that has ended Python, or that fails without the image
 * too, is not asked again: its asker gets a sentence. <html data-boot="restored" or "stock"> says
 * which way it is up.
 *
 * @typedef {{question: object, resolve: (reply: any) => void, reject: (error: Error) => void}} Asked a reply
 *   is Python's JSON: what is in it, `ask` says to whoever asks
 */

import { tr } from "./words.js";

/** Python understood the question and will not answer it; the message is for the user. */
export class Refusal extends Error {}
/** Python met a fault of ours at this question; the message is for the user. */
export class Failure extends Error {
  /** @param {string} reason */
  constructor(reason) {
    super(tr("There is no answer to this, because of a fault in this site. What you typed is kept: change an entry to ask again."));
    console.warn(reason);
  }
}

const told = document.documentElement.dataset;
const AGAIN = [2, 4, 8, 16, 30].map((seconds) => 1000 * seconds); // ms, before the network is tried again

/** Its worker has set out before this script came. */
const early = /** @type {Early} */ (Reflect.get(globalThis, "early"));

/** @type {Map<number, Asked>} */
const waiting = new Map();
let { worker } = early;
let count = 0;
/** Why there is no Python and will be none. @type {Error | undefined} */
let over;
/** @type {(arrived: number, of: number) => void} */
let whoAwaits = () => {};
/** The reply to the question of last time, which is with Python already. @type {Promise<Reply<"answer">> | undefined} */
export const again = early.asked ? answered(0, JSON.parse(early.asked)) : undefined;
again?.catch(() => {});
/** Settles when Python is up, or cannot be brought up in any way. */
export const up = begin(early.addresses, () => {
  for (const data of early.heard.splice(0)) worker.onmessage?.(new MessageEvent("message", { data }));
}); // early.js starts it
up.catch(() => {}); // whoever waits for it is told; before that there may be nobody

/** Be told how many bytes of Python have come, of how many; never where they come quickly. @param {typeof whoAwaits} callback */
export const onArrival = (callback) => (whoAwaits = callback);

/**
 * See Python come up, from its image if there is one.
 * @param {Addresses} addresses @param {() => void} [start] @param {number} [tries] that the network let down
 * @returns {Promise<void>}
 */
function begin(addresses, start = () => worker.postMessage(addresses), tries = 0) {
  const { image, ...others } = addresses;
  return new Promise((resolve, reject) => {
    let isUp = false; // by this worker

    /** Another worker takes over, with all questions that are open. @param {Addresses} how @param {number} [failures] */
    function relaunch(how, failures) {
      worker.terminate();
      worker = early.launch();
      begin(how, undefined, failures).then(resolve, reject);
      for (const [id, { question }] of waiting) worker.postMessage({ id, ...question });
    }

    /** Python did not come up. @param {string} reason @param {boolean} [unreached] */
    function fail(reason, unreached = false) {
      // On a first visit nothing else could come either.
      if (unreached && tries < AGAIN.length && !navigator.serviceWorker?.controller) {
        console.warn(`The network fails, Python is fetched again: ${reason}`);
        setTimeout(() => relaunch(addresses, tries + 1), AGAIN[tries]);
      } else if (image) {
        console.warn(`Python starts the slow way, because its image did not serve: ${reason}`);
        relaunch(others);
      } else {
        over = new Error(reason);
        for (const { reject } of waiting.values()) reject(over);
        waiting.clear();
        reject(over);
      }
    }

    /** There is no answer to this question. @param {number} id @param {string} reason */
    function refuse(id, reason) {
      waiting.get(id)?.reject(new Failure(reason));
      waiting.delete(id);
    }

    /** One question could not be answered; Python may have ended by it. @param {number} id @param {string} reason @param {boolean} ended */
    function failAt(id, reason, ended) {
      if (ended || !image) refuse(id, reason);
      if (ended || image) relaunch(others);
    }

    worker.onerror = (event) => {
      const reason = event.message || "the worker did not load";
      const [oldest] = waiting.keys(); // they are answered in turn: it was at this one
      if (isUp && oldest !== undefined) failAt(oldest, reason, true);
      else fail(reason);
    };
    worker.onmessage = ({ data }) => {
      if (data.ready) {
        told.boot = image && !data.stock ? "restored" : "stock";
        isUp = true;
        resolve();
      } else if (data.arrived) whoAwaits(data.arrived, data.of);
      else if (data.failed && data.id === undefined) fail(data.failed, data.unreached);
      else if (data.failed) failAt(data.id, data.failed, data.fatal);
      else {
        waiting.get(data.id)?.resolve(data.reply);
        waiting.delete(data.id);
      }
    };
    start();
  });
}

/** @param {number} id @param {object} question @returns {Promise<any>} see Asked */
function answered(id, question) {
  return new Promise((resolve, reject) => waiting.set(id, { question, resolve, reject })).then((reply) => {
    if (reply.refused) throw new Refusal(reply.refused);
    return reply;
  });
}

/** @template {keyof Talk} K @param {Question<K>} question @returns {Promise<Reply<K>>} */
export function ask(question) {
  if (again && JSON.stringify(question) === early.asked) {
    early.asked = ""; // from now on it goes to Python
    return /** @type {Promise<any>} */ (again); // the same question
  }
  if (over) return Promise.reject(over);
  early.start();
  const id = ++count;
  const reply = answered(id, question);
  worker.postMessage({ id, ...question });
  return reply;
}

/** Remember what is on screen: it is asked first the next time. @param {string} page @param {object} question */
export function shown(page, question) {
  early.answered = { page, question: JSON.stringify(question) };
}
