// The service worker: keeps the whole site on the device and serves it from there.
// The build puts two lines above this one: FILES, what there is to keep (address, revision where
// the name has no hash in it, integrity, size, whether an answer needs it), and the import of the
// precaching library.
//
// A first installation is over when all files that an answer needs are there; the page then has the
// rest taken, and until it is there it comes from the network. That of a new version takes all,
// since the files of the old one go with it. Either way a file that is missing or differs by one byte
// from the one that was built fails the installation, and the version before goes on. A new version
// waits until the page asks for it.

/** @typedef {(bytes: number) => void} Arrived how much of a large file is here */

const { PrecacheController, PrecacheRoute } = workbox.precaching;

const AT_ONCE = 6; // files; browsers open no more connections to a host
const PAUSES = [1000, 3000, 9000]; // ms, before a file is tried again
const LARGE = 1_000_000; // bytes; a link that breaks off now and then would never bring that in one piece
const TELLING = 200_000; // bytes of such a file

// A file in the browser's own cache may be an old failure: ask the host whether it still holds.
/** @param {{request: Request}} told */
const requestWillFetch = async ({ request }) =>
  request.cache === "default" ? new Request(request, { cache: "no-cache" }) : request;
// A page that a host sends in a file's place and that nobody reads keeps the browser's cache locked for that address.
/** @param {{response: Response}} told */
async function fetchDidSucceed({ response }) {
  if (response.ok) return response;
  await response.body?.cancel();
  return new Response(null, response);
}
const keeper = new PrecacheController({ plugins: [{ requestWillFetch, fetchDidSucceed, cacheWillUpdate: unpack }] });
// A host may vary its answers by request headers; ours are the same for everyone.
keeper.strategy.matchOptions = { ignoreVary: true };
keeper.addToCacheList(FILES);
workbox.routing.registerRoute(
  new PrecacheRoute(keeper, { ignoreURLParametersMatching: [/^/], cleanURLs: false }),
);

// Not by the library's own listener, which takes one file after the other.
self.addEventListener("install", (event) => event.waitUntil(takeAll(event, !self.registration.active)));

// The first page came without us; from now on its requests are ours too.
self.addEventListener("activate", (event) => keeper.activate(event));
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

/** The missing files are on their way, once for all windows that ask. @type {Promise<void> | undefined} */
let taking;

self.addEventListener("message", (event) => {
  const { ask, page } = event.data;
  if (ask === "take over") event.waitUntil(self.skipWaiting());
  if (ask === "check") event.waitUntil(report(event.ports[0], page));
  if (ask === "take again") {
    taking ??= takeAll(event).catch(() => {}).finally(() => (taking = undefined));
    event.waitUntil(taking.then(() => report(event.ports[0], page)));
  }
});

/** Packed files are kept unpacked (`unpacking` comes with the library), because opening them has to be quick; the rest as it is. @param {{request: Request, response: Response}} told */
async function unpack({ request, response }) {
  if (response.status !== 200) return null;
  if (!new URL(request.url).pathname.endsWith(".packed")) return response;
  return new Response(/** @type {ReadableStream} */ (response.body).pipeThrough(unpacking()), {
    headers: { "Content-Type": "application/wasm", Unpacked: "yes" },
  });
}

/** Say whether `page` is one of our files, how many of them are not there, and of those that an answer needs. @param {MessagePort} port @param {string} page */
async function report(port, page) {
  const open = await missing();
  port.postMessage({
    ours: keeper.getCacheKeyForURL(page) !== undefined,
    missing: open.length,
    needed: open.filter(isFirst).length,
  });
}

const OURS = new Map(FILES.map((file) => [new URL(file.url, location.href).href, file]));
/** Whether an answer needs a file. @param {[string, string]} file address and cache key */
const isFirst = ([url]) => Boolean(OURS.get(url)?.first);

/** Address and cache key of every file that should be kept and is not. */
async function missing() {
  const cache = await caches.open(keeper.strategy.cacheName);
  const kept = new Set((await cache.keys()).map((request) => request.url));
  return [...keeper.getURLsToCacheKeys()].filter(([, key]) => !kept.has(key));
}

/**
 * Fetch the missing files, several at once, those first that an answer needs; the library stores
 * each if it is as it was built. Stops at the first that does not come, and raises why.
 * @param {ExtendableEvent} event @param {boolean} [enough] to have those that an answer needs
 */
async function takeAll(event, enough = false) {
  const all = await missing();
  const open = all.filter((file) => !enough || isFirst(file)).sort((a, b) => Number(isFirst(b)) - Number(isFirst(a)));
  const bytes = (/** @type {string} */ url) => OURS.get(url)?.size ?? 0;
  const whole = FILES.reduce((sum, { size }) => sum + size, 0);
  let kept = all.reduce((left, [url]) => left - bytes(url), whole);
  async function lane() {
    for (let next; (next = open.shift()); ) {
      const [url, cacheKey] = next;
      let got = 0; // of a large file, which is told while it comes
      /** @type {Arrived} */
      function arrived(now) {
        kept += now - got;
        got = now;
        tell({ kept, whole });
      }
      await take(event, url, cacheKey, bytes(url) > LARGE ? arrived : undefined);
      arrived(bytes(url));
    }
  }
  const lanes = await Promise.allSettled(Array.from({ length: AT_ONCE }, () => lane().catch((error) => {
    open.length = 0; // the other lanes end with the file that they are at
    throw error;
  })));
  const failed = lanes.find(({ status }) => status === "rejected");
  if (!failed) return;
  const { reason } = /** @type {PromiseRejectedResult} */ (failed);
  if (isFull(reason)) await tell({ full: true });
  throw reason;
}

/**
 * One file, more than once if need be; in the end past the browser's own cache.
 * @param {ExtendableEvent} event @param {string} url @param {string} cacheKey @param {Arrived} [arrived] for a large one
 */
async function take(event, url, cacheKey, arrived) {
  const integrity = keeper.getIntegrityForCacheKey(cacheKey) ?? "";
  /** @type {Uint8Array<ArrayBuffer>[]} */
  const pieces = [];
  for (let tries = 0; ; tries++) {
    const before = pieces.length;
    const last = tries === PAUSES.length;
    const cache = last ? "reload" : "no-cache";
    try {
      if (arrived) return await takePieces(url, cacheKey, integrity, pieces, cache, arrived);
      const request = new Request(url, { integrity, credentials: "same-origin", cache });
      const [response] = await Promise.all(
        keeper.strategy.handleAll({ event, request, params: { cacheKey, integrity } }),
      );
      if (response.status === 200) return;
      throw new Error(`${url}: ${response.status}`);
    } catch (error) {
      if (pieces.length > before) tries = 0; // it gets on
      else if (last || isFull(error)) throw error;
    }
    await new Promise((resolve) => setTimeout(resolve, PAUSES[tries]));
  }
}

/**
 * A large file from where `pieces` end, and stored once it is what was built.
 * @param {string} url @param {string} cacheKey @param {string} integrity @param {Uint8Array<ArrayBuffer>[]} pieces
 * @param {RequestCache} cache @param {Arrived} arrived
 */
async function takePieces(url, cacheKey, integrity, pieces, cache, arrived) {
  let at = pieces.reduce((sum, { length }) => sum + length, 0);
  const response = await fetch(url, at ? { headers: { Range: `bytes=${at}-` } } : { cache });
  const { status, headers, body } = await fetchDidSucceed({ response });
  if (!body || (status !== 200 && status !== 206)) throw new Error(`${url}: ${status}`);
  if (status === 200) [at, pieces.length] = [0, 0]; // from its beginning
  const whole = new Blob(pieces);
  const rest = [];
  let told = at;
  try {
    for (const reader = body.getReader(); ; ) {
      const { done, value } = await reader.read();
      if (done) break;
      at += value.length;
      rest.push(value);
      if (at - told < TELLING) continue;
      told = at;
      arrived(at);
    }
  } finally {
    // What a host has compressed cannot be taken up by its place.
    if (!headers.has("Content-Encoding")) pieces.push(...rest);
  }
  const content = new Blob([whole, ...rest]);
  if ((await digest(content)) !== integrity) {
    pieces.length = 0;
    throw new Error(`${url}: not what was built`);
  }
  const request = new Request(url);
  const stored = await unpack({ request, response: new Response(content, { headers }) });
  if (stored) await (await caches.open(keeper.strategy.cacheName)).put(cacheKey, stored);
}

/** As the list of files has it. @param {Blob} content */
async function digest(content) {
  const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", await content.arrayBuffer()));
  return `sha256-${btoa(String.fromCharCode(...hash))}`;
}

/** @param {unknown} error */
const isFull = (error) => error instanceof DOMException && error.name === "QuotaExceededError";

/** @param {{kept?: number, whole?: number, full?: boolean}} what */
async function tell(what) {
  const pages = await self.clients.matchAll({ includeUncontrolled: true });
  pages.forEach((page) => page.postMessage(what));
}
