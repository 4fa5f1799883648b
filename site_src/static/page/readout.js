// @ts-check
/**
 * Reads a plot where it is touched. Python wrote the places along the axis in px, and what stands
 * there, into the picture; here the nearest place is looked up, marked, and said below.
 */

import { PANELS, all } from "./dom.js";

const SVG = "http://www.w3.org/2000/svg";
/** Where each plot was read last, in px of its picture: an answer that takes its place is read there again. @type {Map<string, number>} */
const read = new Map();

/** @param {Element} from @returns {HTMLElement | null} */
const plotAt = (from) => from.closest(`:is(${PANELS}) figure.plot`);
/** @param {Element} plot @returns {HTMLInputElement | null} */
const slide = (plot) => plot.querySelector(".slide");
/** @param {Element} plot @returns {SVGPathElement[]} the axis, then the curves */
const readable = (plot) => all("[data-reads]", plot);
/** @param {Element} plot @returns {number[]} */
const stops = (plot) => readable(plot)[0]?.dataset.stops?.split(" ").map(Number) ?? [];

/** @param {number[]} places @param {number} x */
function nearest(places, x) {
  const away = places.map((place) => Math.abs(place - x));
  return away.indexOf(Math.min(...away));
}

/** Height of a drawn curve at x: on its last piece that lies there and does not stand upright. @param {SVGPathElement} curve @param {number} x */
function heightAt(curve, x) {
  const points = (curve.getAttribute("d") ?? "").slice(1).split("L").map((point) => point.split(" ").map(Number));
  let height = Number.NaN;
  points.slice(1).forEach(([right, end], place) => {
    const [left, start] = points[place];
    if (left < right && left <= x && x <= right) height = start + ((end - start) * (x - left)) / (right - left);
  });
  return height;
}

/** Mark a place on a plot and say what is there. @param {HTMLElement} plot @param {number} place number of the stop */
function show(plot, place) {
  const [axis, ...curves] = readable(plot);
  const x = stops(plot)[place];
  const texts = [axis, ...curves].map(({ dataset }) => dataset.reads?.split("|")[place] ?? "");
  const [, top, foot] = axis.getAttribute("d")?.match(/[\d.]+/g) ?? [];
  const rings = curves.filter((_, n) => texts[n + 1]).map((curve) => heightAt(curve, x));
  const marker = plot.querySelector(".plot-here") ?? axis.parentNode?.appendChild(document.createElementNS(SVG, "g"));
  if (!marker) return;
  marker.setAttribute("class", "plot-here");
  marker.replaceChildren(
    element("path", { d: `M${x} ${top}V${foot}` }),
    ...rings.map((at) => element("circle", { cx: x, cy: at, r: 3.5 })),
  );
  say(plot, texts);
  const input = slide(plot);
  if (input) input.value = String(place);
  read.set(plot.id, x);
}

/** @param {string} kind @param {Record<string, string | number>} attributes */
function element(kind, attributes) {
  const made = document.createElementNS(SVG, kind);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, String(value));
  return made;
}

/** @param {Element} plot @param {string[]} texts */
function say(plot, texts) {
  const [room] = all(".room", plot);
  const copies = [...room.children].map((part) => /** @type {Element} */ (part.cloneNode(true)));
  copies.forEach((copy, n) => (all("b", copy)[0].textContent = texts[n]));
  const there = copies.filter((_, n) => texts[n]);
  all(".reads", plot)[0].replaceChildren(...there.flatMap((copy) => [copy, " "]));
  slide(plot)?.setAttribute("aria-valuetext", there.map(({ textContent }) => textContent).join("; "));
}

/** @param {PointerEvent} event */
function follow({ target, clientX }) {
  const picture = /** @type {Element} */ (target).closest?.("svg");
  const plot = picture && plotAt(picture);
  if (!plot || !readable(plot).length) return;
  const { left, width } = picture.getBoundingClientRect();
  const place = nearest(stops(plot), ((clientX - left) / width) * picture.viewBox.baseVal.width);
  if (!plot.querySelector(".plot-here") || slide(plot)?.value !== String(place)) show(plot, place);
}

/** By keyboard: the slide has the focus; a plot that was touched lends it. @param {Event} event */
function slid({ target }) {
  const input = /** @type {HTMLInputElement} */ (target);
  const plot = input.matches?.(".slide") && plotAt(input);
  if (plot && readable(plot).length) show(plot, Number(input.value));
}

/** A new answer is read where the one before was. @param {ParentNode} panel */
function again(panel) {
  for (const plot of /** @type {HTMLElement[]} */ (all("figure.plot", panel))) {
    const x = read.get(plot.id);
    if (x !== undefined && readable(plot).length) show(plot, nearest(stops(plot), x));
  }
}

addEventListener("pointerdown", follow);
addEventListener("pointermove", follow);
addEventListener("click", ({ target }) => {
  const plot = plotAt(/** @type {Element} */ (target));
  if (plot) slide(plot)?.focus({ preventScroll: true });
});
addEventListener("input", slid);
addEventListener("focusin", slid);
const watch = new MutationObserver((changes) => {
  for (const panel of new Set(changes.map(({ target }) => target))) again(/** @type {Element} */ (panel));
});
for (const panel of all(PANELS)) watch.observe(panel, { childList: true, subtree: true });
