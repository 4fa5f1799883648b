// @ts-check
/**
 * What takes longest sets out before the page has been read: Python in its worker, and the
 * database. No module, so that it runs at once; ask.js takes the worker over. Where the list of
 * pages is opened there is nothing to answer yet: Python waits until it is on screen. The edition
 * that is one file has all of this too, and a way of its own to begin a worker.
 */
(() => {
  const { lang: language, dataset } = document.documentElement;
  const { runtime, app, image, words } = dataset;
  const absolute = (/** @type {string | undefined} */ address) => new URL(address ?? "", document.baseURI).href;
  const [ofImage, ofWords] = [image, words].map((address) => address && absolute(address));
  const addresses = { runtime: absolute(runtime), app: absolute(app), image: ofImage, words: ofWords, language };
  const here = /** @type {HTMLScriptElement | null} */ (document.currentScript)?.src;
  const launch = globalThis.launchAlone ?? ((name = "") => new Worker(new URL("worker.js", here), { type: "module", name }));
  const atOnce = /^#(?!all\b)./.test(location.hash);
  // A message to a new worker waits until the page has a moment; its name does not.
  const worker = launch(atOnce ? JSON.stringify(addresses) : "");
  /** @type {Told[]} */
  const heard = [];
  worker.onmessage = ({ data }) => heard.push(data);
  worker.onerror = ({ message }) => heard.push({ failed: message || "the worker did not load" });
  let started = false;
  function start() {
    if (!started) worker.postMessage(addresses);
    started = true;
  }
  /** @type {Early} */
  const early = { addresses, launch, worker, heard, start, ask };
  function ask(/** @type {string} */ question) {
    start();
    early.asked = question;
    worker.postMessage({ id: 0, ...JSON.parse(question) });
  }
  Object.assign(globalThis, { early });
  const soon = () => (globalThis.requestIdleCallback ?? setTimeout)(start);
  if (atOnce) start();
  else if (document.readyState === "complete") soon();
  else addEventListener("load", soon);
  try {
    indexedDB?.databases?.().catch(() => {}); // wakes it; who needs it asks again
  } catch {
    // where a site may keep nothing, asking for it is an error already
  }
})();
