// @ts-check
/**
 * Python beside the page: starts the runtime, unpacks the application, answers questions.
 *
 * In:  {runtime, app}      once, absolute addresses of pyodide.js and app.zip
 *      {id, ...request}    a question; may be sent before the runtime is up
 * Out: {ready: true, boot} or {failed: reason}
 *      {id, reply} or {id, failed: reason}
 */

/** @typedef {{answer: (request: string) => string}} Live the Python module site_src.live */

const HOME = "/app";

/** @type {Promise<Live> | undefined} */
let live;

/**
 * @param {string} runtime
 * @param {string} app
 * @returns {Promise<Live>}
 */
async function start(runtime, app) {
  const [{ loadPyodide }, { default: createPyodideModule }, archive] = await Promise.all([
    import(runtime),
    import(new URL("pyodide.asm.js", runtime).href),
    fetch(app).then((response) => {
      if (!response.ok) throw new Error(`app.zip: ${response.status}`);
      return response.arrayBuffer();
    }),
  ]);
  const python = await loadPyodide({ indexURL: new URL(".", runtime).href, createPyodideModule });
  python.unpackArchive(archive, "zip", { extractDir: HOME });
  python.pyimport("sys").path.insert(0, HOME);
  return python.pyimport("site_src.live");
}

/** @param {unknown} error */
const reason = (error) => (error instanceof Error ? error.message : String(error));

self.onmessage = async ({ data: { id, runtime, app, ...request } }) => {
  try {
    if (runtime) {
      live = start(runtime, app);
      await live;
      self.postMessage({ ready: true, boot: "stock" });
    } else {
      if (!live) throw new Error("asked before it was started");
      const reply = (await live).answer(JSON.stringify(request));
      self.postMessage({ id, reply: JSON.parse(reply) });
    }
  } catch (error) {
    self.postMessage({ id, failed: reason(error) });
  }
};
