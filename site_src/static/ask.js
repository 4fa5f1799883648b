// @ts-check
/** Questions to Python in its worker. Each has a number; a reply finds its question by it. */

/** Python understood the question and will not answer it; the message is for the user. */
export class Refusal extends Error {}

/** @type {Map<number, {resolve: (reply: any) => void, reject: (error: Error) => void}>} */
const waiting = new Map();
const worker = new Worker(new URL("worker.js", import.meta.url), { type: "module" });
let count = 0;

/**
 * Start the runtime.
 * @param {string} runtime @param {string} app absolute addresses
 * @returns {Promise<string>} which way it came up
 */
export function start(runtime, app) {
  return new Promise((resolve, reject) => {
    worker.onmessage = ({ data }) => {
      if (data.ready) return resolve(data.boot);
      const asked = waiting.get(data.id);
      if (!asked) return data.failed && reject(new Error(data.failed));
      waiting.delete(data.id);
      if (data.failed) asked.reject(new Error(data.failed));
      else asked.resolve(data.reply);
    };
    worker.onerror = (event) => reject(new Error(event.message));
    worker.postMessage({ runtime, app });
  });
}

/** @param {object} question @returns {Promise<any>} */
export function ask(question) {
  const id = ++count;
  return new Promise((resolve, reject) => {
    waiting.set(id, { resolve, reject });
    worker.postMessage({ id, ...question });
  }).then((reply) => {
    if (reply.refused) throw new Refusal(reply.refused);
    return reply;
  });
}
