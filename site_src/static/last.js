// @ts-check
/**
 * The last answer that the user saw, on screen with the first paint: no module, so that it runs
 * before that. It is marked until the live answer takes its place; its question is asked again at
 * once, before the database has said whether it is still the same.
 */
(() => {
  const KEY = "damper-bench-last";
  const root = document.documentElement;
  /** Not there yet in the edition that is one file. @returns {import("./early.js").Early | undefined} */
  const early = () => Reflect.get(globalThis, "early");
  const { said } = /** @type {HTMLScriptElement} */ (document.currentScript).dataset;
  const pageOf = (/** @type {string} */ name) => document.querySelector(`[data-page="${CSS.escape(name)}"]`);

  addEventListener("visibilitychange", () => {
    const page = document.querySelector("[data-page].open")?.getAttribute("data-page") ?? "";
    const panel = document.getElementById(`${page}-answer`);
    if (!document.hidden || root.dataset.engine !== "live" || !panel) return;
    try {
      const answered = early()?.answered;
      const question = answered?.page === page ? answered.question : "";
      const kept = { question, made: root.dataset.made, lang: root.lang, page, address: location.hash, html: panel.innerHTML };
      localStorage.setItem(KEY, JSON.stringify(kept));
    } catch {
      // full or switched off: the demo car's answers are shown next time
    }
  });

  try {
    const { made, lang, page, html, address, question } = JSON.parse(localStorage.getItem(KEY) ?? "{}");
    const panel = document.getElementById(`${page}-answer`);
    const here = ["", `#${page}`, address].includes(location.hash);
    // Of another version it may lack what this one's styles and buttons rely on.
    if (!panel || made !== root.dataset.made || lang !== root.lang || !here) return;
    panel.innerHTML = `<p class="from-last-time">${said}</p>${html}`;
    for (const open of document.querySelectorAll("[data-page].open")) open.classList.remove("open");
    pageOf(page)?.classList.add("open");
    root.dataset.last = "yes";
    if (question) early()?.ask(question);
  } catch {
    // nothing kept, or damaged: as on a first visit
  }
})();
