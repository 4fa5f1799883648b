// @ts-check
/**
 * Which language the page is in. No module and at the head of the page, so that somebody who has
 * chosen another one is there before anything is painted. The links to it say that it is chosen.
 */
(() => {
  const KEY = "damper-bench-language";
  const root = document.documentElement;
  /** Of a page that is no more than a file there are none. */
  const pages = [.../** @type {NodeListOf<HTMLLinkElement>} */ (document.querySelectorAll('link[rel="alternate"][hreflang]'))];

  /** @returns {string} the language that was chosen; empty where none was, or nothing can be kept */
  function chosen() {
    try {
      return localStorage.getItem(KEY) ?? "";
    } catch {
      return "";
    }
  }

  /** Offer the page in the language of the device, until one is chosen. */
  function offer() {
    const device = navigator.language.split("-")[0];
    for (const line of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-offer]")))
      line.hidden = Boolean(chosen()) || line.dataset.offer !== device || device === root.lang;
  }

  const other = pages.find(({ hreflang }) => hreflang === chosen());
  if (other && chosen() !== root.lang) {
    root.hidden = true;
    location.replace(other.href + location.search + location.hash);
  }
  document.addEventListener("DOMContentLoaded", offer);
  document.addEventListener("click", ({ target }) => {
    const link = /** @type {HTMLAnchorElement | null} */ (/** @type {Element} */ (target).closest("a[hreflang]"));
    if (!link) return;
    link.hash = location.hash; // the same question, in the other language
    try {
      localStorage.setItem(KEY, link.hreflang);
    } catch {
      // it holds for this page alone
    }
    offer();
  });
})();
