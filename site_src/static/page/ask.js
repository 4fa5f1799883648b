// @ts-check
/**
 * Questions to Python in its worker. Each has a number; a reply finds its question by it.
 *
 * Python is restored from its image. If anything goes wrong with that, now or at any later
 * question, its worker is ended and another starts Python the ordinary way and gets all
 * questions that are still open. <html data-boot="restored" or "stock"> says which way it is up.
 *
 * @typedef {{question: object, resolve: (reply: any) => void, reject: (error: Error) => void}} Asked a reply
 *   is Python's JSON: what is in it, `ask` says to whoever asks
 */

/** Python understood the question and will not answer it; the message is for the user. */
export class Refusal extends Error {}

const told = document.documentElement.dataset;

/** Its worker has set out before this script came. */
const early = /** @type {Early} */ (Reflect.get(globalThis, "early"));

/** @type {Map<number, Asked>} */
const waiting = new Map();
let { worker } = early;
let count = 0;
/** The reply to the question of last time, which is with Python already. @type {Promise<Reply<"answer">> | undefined} */
export const again = early.asked ? answered(0, JSON.parse(early.asked)) : undefined;
again?.catch(() => {});
/** Settles when Python is up, or cannot be brought up in any way. */
export const up = begin(early.addresses, () => {
  for (const data of early.heard.splice(0)) worker.onmessage?.(new MessageEvent("message", { data }));
}); // early.js starts it
up.catch(() => {}); // whoever waits for it is told; before that there may be nobody

/**
 * See Python come up, from its image if there is one.
 * @param {Addresses} addresses @param {() => void} [start] @returns {Promise<void>}
 */
function begin({ image, ...others }, start = () => worker.postMessage({ ...others, image })) {
  return new Promise((resolve, reject) => {
    /** @param {string} reason */
    function fail(reason) {
      if (!image) {
        for (const asked of waiting.values()) asked.reject(new Error(reason));
        waiting.clear();
        return reject(new Error(reason));
      }
      console.warn(`Python starts the slow way, because its image did not serve: ${reason}`);
      worker.terminate();
      worker = early.launch();
      begin(others).then(resolve, reject);
      for (const [id, { question }] of waiting) worker.postMessage({ id, ...question });
    }
    worker.onerror = (event) => fail(event.message || "the worker did not load");
    worker.onmessage = ({ data }) => {
      const asked = waiting.get(data.id);
      if (data.ready) {
        told.boot = image ? "restored" : "stock";
        resolve();
      } else if (data.failed && (image || !asked)) fail(data.failed);
      else if (asked) {
        waiting.delete(data.id);
        if (data.failed) asked.reject(new Error(data.failed));
        else asked.resolve(data.reply);
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
