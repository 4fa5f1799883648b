// The service worker: keeps the whole site on the device and serves it from there.
// The build puts two lines above this one: FILES, what there is to keep (address, revision where
// the name has no hash in it, integrity, size), and the import of the precaching library.
//
// All or nothing: a file that is missing or differs by one byte from what was built fails the
// installation, and the version before goes on. A new version waits until the page asks for it.

const { PrecacheController, PrecacheRoute } = workbox.precaching;

// A file in the browser's own cache may be an old failure: ask the host whether it still holds.
/** @param {{request: Request}} told */
const requestWillFetch = async ({ request }) => new Request(request, { cache: "no-cache" });
const keeper = new PrecacheController({
  plugins: [{ requestWillFetch, cacheWillUpdate: unpack, cacheDidUpdate: tellProgress }],
});
// A host may vary its answers by request headers; ours are the same for everyone.
keeper.strategy.matchOptions = { ignoreVary: true };
keeper.precache(FILES);
workbox.routing.registerRoute(
  new PrecacheRoute(keeper, { ignoreURLParametersMatching: [/^/], cleanURLs: false }),
);

// The first page came without us; from now on its requests are ours too.
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("message", (event) => {
  const { ask, page } = event.data;
  if (ask === "take over") event.waitUntil(self.skipWaiting());
  if (ask === "check") event.waitUntil(report(event.ports[0], page));
  if (ask === "take again") event.waitUntil(takeAgain(event).then(() => report(event.ports[0], page)));
});

/** Packed files are kept unpacked, because opening them has to be quick; the rest as it is. @param {{request: Request, response: Response}} told */
async function unpack({ request, response }) {
  if (response.status !== 200) return null;
  if (!new URL(request.url).pathname.endsWith(".packed")) return response;
  return new Response(/** @type {ReadableStream} */ (response.body).pipeThrough(new DecompressionStream("gzip")), {
    headers: { "Content-Type": "application/wasm", Unpacked: "yes" },
  });
}

/** Say whether `page` is one of our files, and how many of them are not there. @param {MessagePort} port @param {string} page */
async function report(port, page) {
  port.postMessage({
    ours: keeper.getCacheKeyForURL(page) !== undefined,
    missing: (await missing()).length,
  });
}

/** Address and cache key of every file that should be kept and is not. */
async function missing() {
  const cache = await caches.open(keeper.strategy.cacheName);
  const kept = new Set((await cache.keys()).map((request) => request.url));
  return [...keeper.getURLsToCacheKeys()].filter(([, key]) => !kept.has(key));
}

/** Fetch what is missing; the library stores it if it is what was built. @param {ExtendableEvent} event */
async function takeAgain(event) {
  for (const [url, cacheKey] of await missing()) {
    const params = { cacheKey, integrity: keeper.getIntegrityForCacheKey(cacheKey) };
    await keeper.strategy.handle({ event, request: new Request(url), params }).catch(() => {});
  }
}

/** Tell the pages what share of the bytes has been stored. */
async function tellProgress() {
  const gone = new Set((await missing()).map(([url]) => url));
  const sum = (/** @type {typeof FILES} */ files) => files.reduce((total, file) => total + file.size, 0);
  const kept = FILES.filter((file) => !gone.has(new URL(file.url, location.href).href));
  const share = sum(kept) / sum(FILES);
  const pages = await self.clients.matchAll({ includeUncontrolled: true });
  pages.forEach((page) => page.postMessage({ share }));
}
