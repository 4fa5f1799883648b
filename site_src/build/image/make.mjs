// @ts-check
/**
 * Makes the memory image: node make.mjs FOLDER
 *
 * Starts Python, uses the whole application once, and writes its memory to a file. A browser that
 * restores it continues from there. Only the difference from the memory of a fresh instance is
 * stored, in blocks. Needs Node 20: later ones put pointers to their own functions in the memory.
 *
 * FOLDER holds the runtime and app.zip; to it are added:
 *   stdlib.zip  the standard library in use
 *   image.bin   uint32 count; count times uint32 offset, length; the blocks one after the other
 *   image.json  {memory: bytes, hiwire: the runtime's table of JavaScript objects}
 */

import crypto from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

const folder = resolve(process.argv[2]);
const here = dirname(fileURLToPath(import.meta.url));
const BLOCK = 256;

// The stack switching of this engine leaves addresses in the memory that no other engine has.
Reflect.deleteProperty(WebAssembly, "Suspending");
Reflect.deleteProperty(WebAssembly, "promising");
// The image has to be reproducible. None of our code uses random numbers or the clock.
crypto.randomFillSync = (view) => view.fill(0);
Date.now = () => 0;
performance.now = () => 0;

/** @type {Scripts[0]} */
const { loadPyodide } = await import(pathToFileURL(join(folder, "pyodide.mjs")).href);
/** @type {Scripts[1]} */
const { default: create } = await import(pathToFileURL(join(folder, "pyodide.asm.mjs")).href);

/** @param {import("pyodide").PyodideConfig} options @param {CreateModule} [start] @returns {Promise<Python>} */
const python = (options, start = create) =>
  /** @type {Promise<Python>} */ (loadPyodide({
    createPyodideModule: start,
    _sysExecutable: "/python",
    // Compiled code knows its lines, not the columns too, which are a tenth of the image.
    env: { HOME: "/home", PYTHONHASHSEED: "0", PYTHONNODEBUGRANGES: "1", LANG: "C.UTF-8" },
    ...options,
  }));

const script = (/** @type {string} */ name) => readFileSync(join(here, name), "utf8");
const bytes = (/** @type {string} */ path) => new Uint8Array(readFileSync(path));

/** Use everything once; returns the archives from which the image is made. */
async function lean() {
  const stock = await python({});
  stock.unpackArchive(bytes(join(folder, "app.zip")), "zip", { extractDir: "/app" });
  stock.FS.mkdirTree("/lean");
  stock.FS.writeFile("/lean/python_stdlib.zip", bytes(join(folder, "python_stdlib.zip")));
  stock.runPython('import sys; sys.path.insert(0, "/app"); sys.dont_write_bytecode = True');
  stock.runPython(script("use.py"));
  stock.runPython(script("lean.py"));
  return Object.fromEntries(
    ["stdlib", "compiled", "app"].map((name) => [name, stock.FS.readFile(`/lean/${name}.zip`)]),
  );
}

/** Memory after everything was used, and the runtime's table. @param {Record<string, Uint8Array>} archives */
async function full({ compiled, app }) {
  const library = join(folder, "compiled.zip");
  writeFileSync(library, compiled);
  const live = await python({ _makeSnapshot: true, stdLibURL: library });
  live.runPython('import sys; sys.path.insert(0, "/app"); sys.dont_write_bytecode = True');
  live.unpackArchive(app, "zip", { extractDir: "/app" });
  live.runPython(script("use.py"));
  live.runPython("del use_everything, _use_form, _use_sheet, _use_garage, _use_setups, _use_backup, _nonsense, _ask, _asked; import gc; gc.collect()");
  const module = live._module;
  const offset = module.HEAP32[module.__PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET / 4];
  const pointer = module.HEAP32[(module.__PyRuntime + offset) / 4];
  if (pointer) throw new Error("the image would hold a pointer into this engine: use Node 20");
  clean(module);
  const snapshot = live.makeMemorySnapshot();
  const [, start, length] = new Uint32Array(snapshot.buffer, 0, 3);
  const head = new TextDecoder().decode(snapshot.subarray(48, 48 + length));
  return { memory: snapshot.subarray(start), hiwire: JSON.parse(head) };
}

/** Freed memory keeps its old content: allocate all of it, clear it, free it again. @param {Inside} module */
function clean(module) {
  const top = module._sbrk(0);
  const taken = [];
  // The last allocation of each size extends the heap: a large one could grow the memory.
  for (let size = 1 << 15; size >= 16; size >>= 1) {
    for (;;) {
      const at = module._malloc(size);
      if (!at || at + size > top) {
        // Given back at once: a fresh instance has no more memory than it starts with.
        module._free(at);
        break;
      }
      taken.push(at);
      module.HEAPU8.fill(0, at, at + size);
    }
  }
  taken.forEach((at) => module._free(at));
}

/**
 * Memory of a fresh instance: as loaded, and at the moment when an image would be restored. Data
 * written by the start until then differ between devices, so they have to come from the image.
 * @param {number} size @param {Record<string, string>} env @returns {Promise<Uint8Array[]>}
 */
async function fresh(size, env) {
  let loaded = new Uint8Array();
  const started = new Promise((resolve) => {
    python({ env }, async (settings) => {
      settings.noInitialRun = true;
      settings.INITIAL_MEMORY = size;
      /** @type {PreRun} */ (settings.preRun).unshift((module) => (loaded = module.HEAPU8.slice()));
      resolve((await create(settings)).HEAPU8.slice());
      return new Promise(() => {}); // this instance has done its work
    });
  });
  return [await started, loaded];
}

/** @param {Uint8Array} memory @param {Uint8Array[]} starts @param {Uint8Array} loaded */
function blocks(memory, starts, loaded) {
  /** @type {[number, number][]} */
  const kept = [];
  for (let at = 0; at < memory.length; at += BLOCK) {
    const part = (/** @type {Uint8Array} */ from) => Buffer.from(from.buffer, from.byteOffset + at, BLOCK);
    const base = part(loaded);
    if ([memory, ...starts].every((from) => base.equals(part(from)))) continue;
    const last = kept.at(-1);
    if (last && last[0] + last[1] === at) last[1] += BLOCK;
    else kept.push([at, BLOCK]);
  }
  return kept;
}

const archives = await lean();
const { memory, hiwire } = await full(archives);
const [plain, loaded] = await fresh(memory.length, { HOME: "/" });
const [long] = await fresh(memory.length, { HOME: "/" + "x".repeat(1000), LANG: "x".repeat(1000) });
if (memory.length > loaded.length) throw new Error("the application needs more memory than a fresh instance has");
const kept = blocks(memory, [plain, long], loaded);
const head = new Uint32Array([kept.length, ...kept.flat()]);
writeFileSync(join(folder, "stdlib.zip"), archives.stdlib);
writeFileSync(
  join(folder, "image.bin"),
  Buffer.concat([Buffer.from(head.buffer), ...kept.map(([at, size]) => memory.subarray(at, at + size))]),
);
writeFileSync(join(folder, "image.json"), JSON.stringify({ memory: memory.length, hiwire }));
process.exit(0);
