// @ts-check
/**
 * The last answer that the user saw, on screen with the first paint: no module and in the head of
 * the page, so that it runs before that. The page that it belongs to may not have been read by
 * then: until it has, a page made of the title and the answer stands in for it. The answer is marked
 * until the live one takes its place; its question is asked again at once, before the database has
 * said whether it is still the same.
 */
(() => {
  const KEY = "damper-bench-last";
  const root = document.documentElement;
  /** Not there yet in the edition that is one file. @returns {Early | undefined} */
  const early = () => Reflect.get(globalThis, "early");
  const { said } = /** @type {HTMLScriptElement} */ (document.currentScript).dataset;
  const titleOf = (/** @type {string} */ page) => document.getElementById(`${page}-title`)?.textContent;

  addEventListener("visibilitychange", () => {
    const page = document.querySelector("[data-page].open")?.getAttribute("data-page") ?? "";
    const panel = document.getElementById(`${page}-answer`);
    if (!document.hidden || root.dataset.engine !== "live" || !panel || panel.querySelector(".coming")) return;
    try {
      const answered = early()?.answered;
      const question = answered?.page === page ? answered.question : "";
      const { made } = root.dataset;
      const own = JSON.parse(question || "{}").car?.demo === false;
      const kept = { own, question, made, lang: root.lang, page, address: location.hash, title: titleOf(page), html: panel.innerHTML };
      localStorage.setItem(KEY, JSON.stringify(kept));
    } catch {
      // full or switched off: the demo car's answers are shown next time
    }
  });

  /** @param {string} page @param {string} title @param {string} html */
  function showFirst(page, title, html) {
    const standIn = document.createElement("section");
    standIn.className = "page open";
    standIn.innerHTML = `<div class="title"><h2></h2></div><section class="answer">${html}</section>`;
    /** @type {HTMLElement} */ (standIn.querySelector("h2")).textContent = title;
    root.dataset.last = "alone"; // no page is shown but the one that stands in
    let frame = 0;
    function place() {
      const form = document.getElementById(page); // comes after the panel: that has been read, then
      const panel = form && document.getElementById(`${page}-answer`);
      if (panel || document.readyState !== "loading") {
        standIn.remove();
        cancelAnimationFrame(frame);
        document.removeEventListener("readystatechange", place);
        root.dataset.last = "yes";
        if (!panel) return;
        panel.innerHTML = html;
        for (const open of document.querySelectorAll("[data-page].open")) open.classList.remove("open");
        panel.closest("[data-page]")?.classList.add("open");
      } else {
        if (!standIn.isConnected) document.querySelector("main")?.prepend(standIn);
        frame = requestAnimationFrame(place); // is called before the next paint
      }
    }
    document.addEventListener("readystatechange", place); // before any module runs
    place();
  }

  try {
    const { own, made, lang, page, html, address, title, question } = JSON.parse(localStorage.getItem(KEY) ?? "{}");
    const here = ["", `#${page}`, address].includes(location.hash);
    // Of another version it may lack what this one's styles and buttons rely on.
    if (own && !here) root.classList.add("waiting"); // the page is built with the demo car's answers
    if (!html || made !== root.dataset.made || lang !== root.lang || !here) return;
    if (question) early()?.ask(question);
    showFirst(page, title, `<p class="from-last-time">${said}</p>${html}`);
  } catch {
    // nothing kept, or damaged: as on a first visit
  }
})();
