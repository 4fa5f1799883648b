// @ts-check
// In place of the worker: Python beside the browser, which a test asks for the page (beside.py). It
// has no image, so that the page does not have it practise.
// All of a Worker that the page uses.
/** @type {any} */ (globalThis).Worker = class {
  /** @type {((event: {data: Told}) => void) | undefined} */
  onmessage;
  language = "";
  ended = false;
  /** One reply after the other, as from Python. */
  last = Promise.resolve();
  /** @param {any} message a question and its number, or the addresses that Python starts with */
  postMessage({ id, runtime, language, ...question }) {
    if (runtime) this.language = language;
    this.last = this.last.then(async () => {
      await globalThis.late?.(1000); // see tests/late.py
      /** @type {Told} */
      const up = { ready: true, stock: true };
      const data = runtime ? up : await this.told(id, JSON.stringify(question));
      if (!this.ended) this.onmessage?.({ data });
    });
  }
  /** @param {number} id @param {string} question @returns {Promise<Told>} */
  async told(id, question) {
    try {
      return { id, reply: JSON.parse(await globalThis.askBeside(this.language, question)) };
    } catch (error) {
      return { id, failed: String(error), fatal: false };
    }
  }
  terminate() {
    this.ended = true;
  }
};
