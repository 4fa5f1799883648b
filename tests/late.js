// @ts-check
// A device on which everything takes its time, each time another: what it keeps, and through `late`
// whatever else asks for it (beside.js). One thing still comes after the other as it is asked for.
(() => {
  const timer = setTimeout.bind(globalThis); // a test may stop the clock of the page
  /** @param {number} most ms; mostly much less */
  const late = (most) => new Promise((resolve) => timer(resolve, most * Math.random() ** 2));
  Object.defineProperty(globalThis, "late", { value: late });

  const { open } = IDBFactory.prototype;
  IDBFactory.prototype.open = function (...names) {
    const request = open.apply(this, names);
    const { addEventListener } = request;
    request.addEventListener = (/** @type {string} */ kind, /** @type {any} */ listener, /** @type {any[]} */ ...more) => {
      const slow = kind === "success" ? async (/** @type {Event} */ event) => (await late(2500), listener(event)) : listener;
      addEventListener.call(request, kind, slow, ...more);
    };
    return request;
  };

  /** @type {Promise<unknown>} */
  let last = Promise.resolve();
  IDBTransaction.prototype.addEventListener = function (/** @type {string} */ kind, /** @type {any} */ listener, /** @type {any[]} */ ...more) {
    const most = this.mode === "readonly" ? 200 : 600;
    const slow = (/** @type {Event} */ event) => (last = last.then(() => late(most)).then(() => listener.call(this, event)));
    const isKept = kind === "complete" && this.mode !== "versionchange";
    EventTarget.prototype.addEventListener.call(this, kind, isKept ? slow : listener, ...more);
  };
})();
