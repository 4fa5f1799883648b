/** Eyes of the tests of access, put into the page: window.eyes. */
(() => {
  const says = (/** @type {Element} */ e) => e.outerHTML.slice(0, 160);
  const CONTROLS = "a[href], button, summary, select, textarea, input";
  const everything = () => [...document.body.querySelectorAll("*")];

  /**
   * Closed pages are looked at when they are open; till then their shells stand in for them, because
   * axe-core walks through everything there is.
   * @param {string[]} tags @param {boolean} enhanced
   */
  async function violations(tags, enhanced) {
    const closed = [...document.querySelectorAll("[data-page]:not(.open)")].map((page) => {
      const shell = /** @type {Element} */ (page.cloneNode(false));
      page.replaceWith(shell);
      return [shell, page];
    });
    const { violations } = await axe.run({
      runOnly: tags,
      rules: { "color-contrast-enhanced": { enabled: enhanced } },
      resultTypes: ["violations"],
    });
    for (const [shell, page] of closed) shell.replaceWith(page);
    return violations.flatMap(({ id, nodes }) =>
      nodes.map(({ target, failureSummary }) => `${id}: ${target.join(" ")}: ${failureSummary}`),
    );
  }

  /** A link among other words, which is as high as their line. @param {Element} a */
  function inSentence(a) {
    const around = a.closest("p, li, dd, td, figcaption");
    if (a.tagName !== "A" || getComputedStyle(a).display !== "inline" || !around) return false;
    return around.textContent.replace(a.textContent, "").trim().length > 3;
  }

  /** Read aloud, not shown. @param {Element} e */
  const isClipped = (e) => getComputedStyle(e).clipPath !== "none";

  /** A radio button, a box to tick, a file is as large as its label; what is clipped is no target. */
  const tooSmall = () =>
    [.../** @type {NodeListOf<HTMLInputElement>} */ (document.querySelectorAll(CONTROLS))]
      .filter((e) => e.checkVisibility({ visibilityProperty: true }) && !inSentence(e))
      .filter((e) => !isClipped(e))
      .map((e) => [e, (["radio", "checkbox", "file"].includes(e.type) && e.closest("label")) || e])
      .map(([e, target]) => ({ e, size: target.getBoundingClientRect() }))
      .filter(({ size: { width, height } }) => width < 43.99 || height < 43.99)
      .map(({ e, size: { width, height } }) => `${width} x ${height}: ${says(e)}`);

  /** Tables and paper are there to be scrolled; pictures are drawn to a scale of their own. */
  function lostWhenDoubled() {
    document.documentElement.style.fontSize = "200%";
    const wider = document.documentElement.scrollWidth - innerWidth;
    const shown = everything().filter((e) => e.checkVisibility() && !e.closest(".unseen, svg, .slide") && !isClipped(e));
    const over = shown.filter((e) => {
      const { right, left, width } = e.getBoundingClientRect();
      return !e.closest(".scroll, .paper") && width > 0 && (right > innerWidth + 1 || left < -1);
    });
    // The line that stands for a card is short on purpose: the card has all of it.
    const cut = shown.filter((e) => !e.closest(".brief")).filter((e) => {
      const { overflowX, overflowY } = getComputedStyle(e);
      const across = e.scrollWidth - e.clientWidth > 1;
      const down = e.scrollHeight - e.clientHeight > 1;
      return e.tagName !== "INPUT" && ((overflowX === "hidden" && across) || (overflowY === "hidden" && down));
    });
    // A word a line is narrow; a letter a line cannot be read.
    const letters = shown.filter((e) => [...e.childNodes].some((one) => {
      const length = one.nodeType === Node.TEXT_NODE ? (one.textContent ?? "").trim().length : 0;
      if (length < 4) return false;
      const range = new Range();
      range.selectNodeContents(one);
      return range.getClientRects().length > length / 2;
    }));
    document.documentElement.style.fontSize = "";
    return [...(wider > 0 ? [`${wider} px wider`] : []), ...over.map(says), ...cut.map(says), ...letters.map(says)];
  }

  /** What the keyboard is on, whether that is shown, and whether it lies under something else. */
  function focused() {
    const e = /** @type {Element & {name?: string}} */ (document.activeElement);
    const ring = [e, e.nextElementSibling, e.closest(".input")].filter((one) => one !== null).some((one) => {
      const { outlineStyle, outlineWidth } = getComputedStyle(one);
      return outlineStyle !== "none" && parseFloat(outlineWidth) >= 2;
    });
    const { left, top, width, height } = e.getBoundingClientRect();
    const spots = [0.1, 0.5, 0.9].map((part) => document.elementFromPoint(left + width / 2, top + height * part));
    const own = (/** @type {Element} */ spot) => e.contains(spot) || spot.contains(e) || e.closest("label")?.contains(spot);
    const name = e === document.body ? "" : `${e.tagName} ${e.name || e.textContent.trim().slice(0, 30)}`;
    // A clipped one is shown by its picture.
    return { name, ring, seen: isClipped(e) || spots.some((spot) => spot && own(spot)) };
  }

  /** How much on the page moves by itself. */
  const moving = () =>
    document.getAnimations().length +
    everything().filter((e) => {
      const { animationName, transitionDuration, scrollBehavior } = getComputedStyle(e);
      return animationName !== "none" || transitionDuration !== "0s" || scrollBehavior !== "auto";
    }).length;

  globalThis.eyes = { violations, tooSmall, lostWhenDoubled, focused, moving };
})();
