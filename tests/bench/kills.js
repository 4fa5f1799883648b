// @ts-check
// One life of a page, until it is killed: does one thing after another by the page's own buttons and
// fields, tells the host of each deed beforehand (and waits until the host knows), and how the
// screen looks whenever that has changed. Begun by an event, its orders in <html data-given>.

/** @returns {{kind: string, seed: number, first: number}} */
const given = () => JSON.parse(document.documentElement.dataset.given ?? "");
const FIELDS = ["ride_height", "wanted_height", "pitch"];

/** The kept things that a page has on screen. @param {string} kind @returns {Record<string, unknown>} */
const look = (kind) => {
  const each = (/** @type {string} */ what) => /** @type {HTMLElement[]} */ ([...document.querySelectorAll(what)])
    .filter((one) => getComputedStyle(one).visibility === "visible"); // the log is hidden until it is this car's
  /** @type {Record<string, (() => [string, unknown][])>} */
  const LOOKS = {
    "collar-turns": () => FIELDS.map((name) =>
      [name, /** @type {HTMLInputElement | null} */ (document.querySelector(`form[id="collar-turns"] [name="${name}"]`))?.value]),
    log: () => each("[data-net]").map((one) => [one.dataset.net ?? "", (one.textContent ?? "").trim().replace(/\s+/g, " ")]),
    setups: () => each("#setups-list strong").map((one) => [one.textContent ?? "", "here"]),
    cars: () => each("#cars-list > [data-id]").map((one) => [one.dataset.id ?? "", one.querySelector("s") ? "gone" : "here"]),
  };
  return Object.fromEntries(LOOKS[kind]());
};

addEventListener("look", () => {
  document.documentElement.dataset.look = JSON.stringify(look(given().kind));
});

addEventListener("life", async () => {
  const { kind, seed, first } = given();
  let chance = seed, count = first;
  const below = (/** @type {number} */ n) => (chance = (chance * 48271) % 2147483647) % n;
  const wait = (/** @type {number} */ ms) => new Promise((done) => setTimeout(done, ms));
  const tell = (/** @type {object} */ what) => fetch("told", { method: "POST", body: JSON.stringify(what) });
  /** One of these that can be pressed. @param {string} what */
  const one = (what) => {
    const found = /** @type {HTMLButtonElement[]} */ ([...document.querySelectorAll(what)]).filter(({ disabled }) => !disabled);
    return found[below(found.length || 1)];
  };
  const write = (/** @type {string} */ what, /** @type {string} */ text) => {
    const field = /** @type {HTMLInputElement | null} */ (document.querySelector(what));
    if (!field) return;
    field.focus();
    field.value = text;
    field.dispatchEvent(new Event("input", { bubbles: true }));
  };
  /** @typedef {{touches: string[], act: () => unknown}} Deed the things on screen that it may change */
  /** @param {string} what @param {(button: HTMLElement) => string[]} touches @returns {Deed | undefined} */
  const press = (what, touches) => {
    const button = one(what);
    return button && { touches: touches(button), act: () => button.click() };
  };
  const everything = () => Object.keys(look(kind));
  const row = (/** @type {HTMLElement} */ button) => [button.dataset.id ?? button.closest("li")?.dataset.id ?? ""];
  /** @returns {Deed} */
  const field = () => {
    const name = FIELDS[below(FIELDS.length)];
    const text = (20 + (++count % 900) / 100).toFixed(2);
    return { touches: [name], act: () => write(`form[id="collar-turns"] [name="${name}"]`, text) };
  };
  const restore = async () => {
    const input = /** @type {HTMLInputElement} */ (document.getElementById("backup-file"));
    const files = new DataTransfer();
    files.items.add(new File([await (await fetch("backup.json")).text()], "backup.json", { type: "application/json" }));
    input.files = files.files;
    input.dispatchEvent(new Event("change", { bubbles: true }));
    for (let n = 0; n < 40 && !one('[data-do="restore"]'); n++) await wait(50);
    one('[data-do="restore"]')?.click();
  };
  const collar = () => press('[data-do="turn"]', ({ dataset }) => [dataset.corner ?? ""]);
  /** @type {Record<string, (() => Deed | undefined)[]>} */
  const DEEDS = {
    "collar-turns": [
      field, field, field, field,
      () => press('[id="collar-turns-answer"] [data-do="done"]', everything),
      () => press("#notice button", everything),
    ],
    log: [
      collar, collar, collar, collar,
      () => press('[data-do="take-back"]', everything),
      () => press('[data-do="base"]', everything),
    ],
    setups: [
      () => ({ touches: [], act: () => {
        write("#setups-save-name", `Kept ${++count} ${seed}`);
        write("#setups-save-temperature", "22");
        one('#setups-save [type="submit"]')?.click();
      } }),
    ],
    cars: [
      () => press('#cars-list [data-do="copy-car"]', () => []),
      () => press('#cars-list [data-do="delete-car"]', row),
      () => press('#cars-list [data-do="bring-back"]', row),
      () => ({ touches: ["kept"], act: restore }),
    ],
  };
  const seen = () => JSON.stringify(look(kind));
  let shown = "";
  const show = () => {
    const now = seen();
    if (now === shown) return;
    shown = now;
    void tell({ is: "shown", look: now });
  };
  setInterval(show, 20);
  show();
  for (;;) {
    const deed = DEEDS[kind][below(DEEDS[kind].length)]();
    if (deed) {
      const before = seen();
      await tell({ is: "act", touches: deed.touches, look: before });
      await deed.act();
      for (let n = 0; n < 60 && seen() === before; n++) await wait(25);
      show();
      await tell({ is: "acted", look: seen() });
    }
    await wait(below(2) ? below(1200) : 50);
  }
});
