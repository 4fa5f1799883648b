// @ts-check
/**
 * What takes longest sets out before the page has been read: Python in its worker, and the
 * database. No module, so that it runs at once; ask.js takes the worker over.
 *
 * @typedef {{runtime: string, app: string, image?: string}} Addresses absolute
 * @typedef {{addresses: Addresses, launch: () => Worker, worker: Worker}} Early
 */
(() => {
  const { runtime, app, image } = document.documentElement.dataset;
  const absolute = (/** @type {string | undefined} */ address) => new URL(address ?? "", document.baseURI).href;
  const addresses = { runtime: absolute(runtime), app: absolute(app), image: image && absolute(image) };
  const script = new URL("worker.js", /** @type {HTMLScriptElement} */ (document.currentScript).src);
  const launch = () => new Worker(script, { type: "module" });
  const worker = launch();
  worker.postMessage(addresses);
  Object.assign(globalThis, { early: { addresses, launch, worker } });
  indexedDB?.databases?.().catch(() => {}); // wakes it; who needs it asks again
})();
