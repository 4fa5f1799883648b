// @ts-check
/**
 * Python beside the page: starts it, or restores it from its image, and answers questions.
 *
 * In:  {runtime, app, image,  absolute addresses of pyodide.js, of the packed app.zip, of the
 *       words, language}      facts about the image (absent: start without it), and of the dictionary
 *                             of a language that is not English; said again it starts nothing. The same may
 *                             be the name of the worker, as JSON: then it starts without it
 *      {id, ...request}       a question; may be sent before Python is up
 * Out: {ready: true, stock: whether it is up without its image} or {failed: reason, unreached:
 *                             whether the network is to blame}
 *      {arrived, of}          bytes of the runtime that have come, and how many there are
 *      {id, reply} or {id, failed: reason, fatal: whether that ended Python}; after a fatal failure
 *                             the worker ends: what is in its memory cannot be relied on
 */

const HOME = "/app";
/** @type {Record<string, string>} */
const PARTS = self.parts ?? {};
const SMALL = 100; // bytes
const EMPTY_ZIP = new Uint8Array([0x50, 0x4b, 5, 6, ...Array(18).fill(0)]);
const fetchAnything = self.fetch.bind(self);

/** @type {Promise<Live> | undefined} */
let live;

/** @param {string} address @returns {string} name of a file */
const named = (address) => address.slice(address.lastIndexOf("/") + 1);

const PAUSES = [1000, 2000, 4000]; // ms, before a file is asked for again
const MOST_BREAKS = 5; // of one file in a row, without a byte between them
const TELLING = 1000; // ms, so that a quick link tells nothing
/** Whether the network is to blame if Python does not come up. */
let unreached = false;
const coming = { arrived: 0, of: 0, told: performance.now() };
const SAMPLE = 500_000; // bytes
const QUICK = 1000; // ms for that; else the image, which is larger than what serves in its place, is not waited for
/** @type {(slow: boolean) => void} */
let judge;
/** Whether the link is slow, as soon as enough has come to tell. @type {Promise<boolean>} */
const slowness = new Promise((resolve) => (judge = resolve));
let seen = 0;
let stock = false;

/** A file; where the link breaks off, the rest is asked for. @param {string} address @returns {Promise<Response>} */
async function get(address) {
  const part = PARTS[named(address)];
  if (part) judge(false); // it is in the page: there is no link
  const wanted = part ?? address;
  const response = await reach(wanted);
  if (!response.body || onceUnpacked(response)) return response;
  return new Response(whole(wanted, response.body, sized(response)), { headers: response.headers });
}

/** @param {string} address @param {RequestInit} [options] @returns {Promise<Response>} */
async function reach(address, options) {
  for (let tries = 0; ; tries++) {
    const last = tries === PAUSES.length;
    try {
      const response = await fetchAnything(address, options);
      if (response.ok) return response;
      if (last || response.status < 500) throw new Error(`${address}: ${response.status}`);
    } catch (error) {
      const network = error instanceof TypeError;
      unreached ||= network && last;
      if (last || !network) throw error;
    }
    await new Promise((resolve) => setTimeout(resolve, PAUSES[tries]));
  }
}

/** Bytes on the way, 0 where the host has compressed them: then it tells another number. @param {Response} response */
const sized = ({ headers }) => (headers.has("Content-Encoding") ? 0 : Number(headers.get("Content-Length")));

/**
 * The content of an answer and, when that breaks off, of further ones from there on. A host that
 * knows no ranges, or compresses, begins again: what has come already is skipped.
 * @param {string} address @param {ReadableStream<Uint8Array>} body @param {number} size 0: not known
 */
function whole(address, body, size) {
  let reader = body.getReader();
  let [at, skip, breaks] = [0, 0, 0];
  coming.of += size;
  /** @param {Uint8Array} piece */
  function fresh(piece) {
    const old = Math.min(skip, piece.length);
    skip -= old;
    at += piece.length - old;
    if (!seen && piece.length) setTimeout(() => judge(true), QUICK);
    seen += piece.length;
    if (seen > SAMPLE) judge(false);
    if (size) arrive(piece.length - old);
    return piece.subarray(old);
  }
  async function goOn() {
    const response = await reach(address, size ? { headers: { Range: `bytes=${at}-` } } : {});
    skip = response.status === 206 ? 0 : at;
    reader = /** @type {ReadableStream<Uint8Array>} */ (response.body).getReader();
  }
  return new ReadableStream({
    async pull(controller) {
      for (;;) {
        try {
          const { done, value } = await reader.read();
          if (done) return controller.close();
          const piece = fresh(value);
          breaks = piece.length ? 0 : breaks;
          if (piece.length) return controller.enqueue(piece);
        } catch (error) {
          if (++breaks > MOST_BREAKS) throw error;
          await goOn();
        }
      }
    },
  });
}

/** Tell the page how much has come, now and then. @param {number} bytes */
function arrive(bytes) {
  coming.arrived += bytes;
  const now = performance.now();
  if (now - coming.told < TELLING) return;
  coming.told = now;
  self.postMessage({ arrived: coming.arrived, of: coming.of });
}

/** Whether a packed file comes from the device, as the service worker keeps it. @param {Response} response */
const onceUnpacked = (response) => response.headers.has("Unpacked");

/** Address of what unpacks, which a start from the device does without. */
let unpacker = "";

/** The content of a file that is packed on the host; on the device it is kept unpacked. @param {Response} response */
async function unpacked(response) {
  if (onceUnpacked(response) || !response.body) return response;
  await import(unpacker);
  return new Response(response.body.pipeThrough(self.unpacking()), { headers: { "Content-Type": "application/wasm" } });
}

/**
 * The runtime wraps some 260 functions one by one, each in a small module of its own, but those with
 * the same signature are the same to the byte: each is made once.
 */
function compileOnce() {
  /** @type {Map<string, WebAssembly.Module>} */
  const made = new Map();
  WebAssembly.Module = new Proxy(WebAssembly.Module, {
    construct(Module, [bytes]) {
      if (bytes.byteLength > SMALL) return new Module(bytes);
      const key = String(bytes);
      const module = made.get(key) ?? new Module(bytes);
      made.set(key, module);
      return module;
    },
  });
}

/**
 * Fetch and compile everything at once. The runtime would do it later, one after the other, and
 * asks for its parts by names that are not ours: it gets what is on its way already.
 * @param {string} runtime address of pyodide.js @param {Record<string, Response>} [instead] by name
 */
function begin(runtime, instead = {}) {
  const beside = (/** @type {string} */ name) => new URL(name, runtime).href;
  unpacker = PARTS["unpacking.js"] ?? beside("unpacking.js");
  const wasm = get(beside("pyodide.asm.wasm.packed"));
  const compiled = WebAssembly.compileStreaming(wasm.then(unpacked));
  WebAssembly.instantiateStreaming = async (_, imports) => {
    const module = await compiled;
    return { module, instance: await WebAssembly.instantiate(module, imports) };
  };
  compileOnce();
  /** @type {Record<string, Response | Promise<Response>>} */
  const ready = { "pyodide.asm.wasm": new Response(), ...instead };
  self.fetch = async (address) => ready[named(String(address))] ?? get(String(address));
  const script = (/** @type {string} */ name) =>
    import(PARTS[name] ?? beside(name)).catch((error) => {
      unreached ||= error instanceof TypeError; // else it came, and is no script
      throw error;
    });
  /** @type {Promise<Scripts>} */
  const scripts = Promise.all([script("pyodide.js"), script("pyodide.asm.js")]);
  // The runtime waits for ever where its code cannot be compiled: that has to be told otherwise.
  const broken = compiled.then(() => /** @type {Promise<never>} */ (new Promise(() => {})));
  broken.catch(() => {}); // who waits for it is told
  const kept = wasm.then(onceUnpacked, () => false);
  return { indexURL: beside("."), scripts, broken, compiled, kept, ready };
}

/** The ordinary way. @param {ReturnType<typeof begin>} begun @param {string} app @returns {Promise<Live>} */
async function start({ indexURL, scripts, broken, ready }, app) {
  stock = true;
  ready["python_stdlib.zip"] = get(`${indexURL}python_stdlib.zip.packed`).then(unpacked);
  const archive = get(app).then(unpacked).then((response) => response.arrayBuffer());
  const [{ loadPyodide }, { default: createPyodideModule }] = await scripts;
  const python = await Promise.race([broken, loadPyodide({ indexURL, createPyodideModule })]);
  python.unpackArchive(await archive, "zip", { extractDir: HOME });
  python.pyimport("sys").path.insert(0, HOME);
  return python.pyimport("site_src.live.worker");
}

/**
 * From the image; but where that is not on the device and the link is slow, the ordinary way, and
 * where the runtime is there already: then the image is on its way there too.
 * @param {string} runtime @param {string} image @param {string} app @returns {Promise<Live>}
 */
async function restore(runtime, image, app) {
  const told = get(image).then((response) => /** @type {Promise<Facts>} */ (response.json())); // small: first
  told.catch(() => {}); // who waits for it is told
  const begun = begin(runtime, {
    "python_stdlib.zip": new Response(EMPTY_ZIP), // all of it is in the image
  });
  const { indexURL, scripts, broken, compiled, kept } = begun;
  const address = image.replace(/json$/, "packed");
  const here = await onDevice(address).catch(() => undefined); // not every place has a cache
  const allThere = () => false; // all that there is to compile has come
  const without = kept.then((is) => is || compiled.then(allThere, allThere));
  if (!here && (await Promise.race([slowness, without]))) return start(begun, app);
  const whole = checked(told, here ?? get(address));
  whole.catch(() => {}); // who waits for it is told
  const [facts, [{ loadPyodide }, { default: create }]] = await Promise.all([told, scripts]);
  if (!indexURL.endsWith(`/${facts.runtime}/`)) throw new Error("the image is of another runtime");
  const restored = loadPyodide({
    indexURL,
    _loadSnapshot: new Uint8Array(1), // asks for a restore; what is restored comes from us
    createPyodideModule: async (settings) => {
      settings.INITIAL_MEMORY = facts.memory;
      const module = await create(settings); // meanwhile the image is read and checked
      const content = await whole;
      module.API.restoreSnapshot = () => {
        put(content, module.HEAPU8);
        return facts.hiwire;
      };
      return module;
    },
  });
  const python = await Promise.race([broken, restored]);
  return python.pyimport("site_src.live.worker");
}

/** The image, if it is what the facts say to the byte. @param {Promise<Facts>} told @param {Response | Promise<Response>} response */
async function checked(told, response) {
  const content = new Uint8Array(await (await unpacked(await response)).arrayBuffer());
  if ((await digest(content)) !== (await told).sha256) throw new Error("the image is damaged");
  return content;
}

/** Without the way through the service worker. @param {string} address */
const onDevice = async (address) => caches.match(address, { ignoreVary: true });

/** @param {Uint8Array<ArrayBuffer>} content @returns {Promise<string>} SHA-256 in hexadecimal digits */
async function digest(content) {
  const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", content));
  return Array.from(hash, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** Write the blocks of the image to their places. @param {Uint8Array<ArrayBuffer>} content @param {Uint8Array} memory */
function put(content, memory) {
  const [count] = new Uint32Array(content.buffer, 0, 1);
  const places = new Uint32Array(content.buffer, 4, 2 * count);
  let from = 4 + 8 * count;
  for (let i = 0; i < places.length; i += 2) {
    memory.set(content.subarray(from, from + places[i + 1]), places[i]);
    from += places[i + 1];
  }
}

/** Have Python speak the language of the page; in English rather than not at all. @param {Promise<Live>} python @param {string} language @param {string | undefined} words */
async function speaking(python, language, words) {
  const told = words && get(words).then(unpacked).then((response) => response.text()).catch((error) => console.warn(error));
  const answering = await python;
  const dictionary = await told;
  if (dictionary) answering.speak(language, dictionary);
  return answering;
}

/** Start Python, once. @param {Addresses} how see above @returns {Promise<Live>} */
function wake({ runtime, app, image, words, language }) {
  live ??= speaking(image ? restore(runtime, image, app) : start(begin(runtime), app), language, words);
  return live;
}

/** @param {unknown} error */
const reason = (error) => (error instanceof Error ? error.message : String(error));

if (self.name) wake(JSON.parse(self.name)).catch(() => {}); // who waits for it is told

/** Python's own exceptions leave it whole; anything else, as a stack that overflows, does not. @param {unknown} error */
const isFatal = (error) => !(error instanceof Error && error.name === "PythonError");

/** @param {Addresses} how */
async function bringUp(how) {
  try {
    await wake(how);
    self.postMessage({ ready: true, stock });
  } catch (error) {
    self.postMessage({ failed: reason(error), unreached });
  }
}

/** @param {number} id @param {object} question */
async function answer(id, question) {
  const python = await live?.catch(() => undefined);
  if (!python) return; // whoever started it is told that it is not up, and knows what was asked
  try {
    self.postMessage({ id, reply: JSON.parse(python.answer(JSON.stringify(question))) });
  } catch (error) {
    const fatal = isFatal(error);
    self.postMessage({ id, failed: reason(error), fatal });
    if (fatal) self.close();
  }
}

self.onmessage = ({ data: { id, ...request } }) => (request.runtime ? bringUp(request) : answer(id, request));
