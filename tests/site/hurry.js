// Somebody in a hurry, in a page of the stand-in: types, changes the units, keeps, does, takes back,
// one upon the other, while each reply takes as long as chance has it. Whatever the order, the text
// that was typed last in a field is in the field, and kept: as typed, or in the car.
// Asked for by an event, with what it needs in <html data-hurry>; says in <html data-hurried> where
// it is otherwise. (Scripts of the test may see other copies of the modules than the page does.)
addEventListener("hurry", async () => {
  const { dataset } = document.documentElement;
  const { seed, steps } = JSON.parse(dataset.hurry ?? "");
  const base = /** @type {HTMLScriptElement} */ (document.querySelector("script[type=module][src]")).src;
  const [{ state }, { read }] = /** @type {Hurried} */ (
    await Promise.all(["state", "db"].map((name) => import(new URL(`${name}.js`, base).href)))
  );
  const FORM = "collar-turns";
  const form = /** @type {HTMLFormElement} */ (document.getElementById(FORM));
  const fields = /** @type {HTMLInputElement[]} */ (["pitch", "wanted_height", "ride_height"]
    .map((name) => form.querySelector(`[name="${name}"]`)).filter(Boolean));
  let chance = seed, count = 0;
  const below = (/** @type {number} */ n) => (chance = (chance * 48271) % 2147483647) % n;
  const wait = (/** @type {number} */ ms) => new Promise((done) => setTimeout(done, ms));
  const press = (/** @type {string} */ what) => /** @type {HTMLElement | null} */ (document.querySelector(what))?.click();
  /** @type {Record<string, string>} */
  const last = {};
  /** @type {(() => void)[]} */
  const DEEDS = [
    ...[1, 2, 3, 4].map(() => () => {
      const field = fields[below(fields.length)];
      field.focus();
      last[field.name] = field.value = String(++count);
      field.dispatchEvent(new Event("input", { bubbles: true }));
    }),
    () => press(".system input:not(:checked)"),
    () => press(`#${FORM}-answer [data-do=keep]`),
    () => press(`#${FORM}-answer [data-do=done]`),
    () => press("#notice button"),
  ];
  globalThis.slow = () => wait(below(80));
  for (let step = 0; step < steps; step++) {
    DEEDS[below(DEEDS.length)]();
    await wait(below(3) ? below(50) : 0);
  }
  globalThis.slow = undefined;
  const digits = (/** @type {string | undefined} */ text) => (text ?? "").replace(/\.\d+$/, "");
  const looked = async () => {
    const { current } = state;
    const kept = await read(async (tx) => ({
      typed: await tx.objectStore("typed").get([current, FORM]),
      car: await tx.objectStore("cars").get(current),
    }));
    const noted = /** @type {WholeCar | undefined} */ (kept.car?.car)?.noted?.[FORM] ?? {};
    return fields.filter(({ name }) => name in last).map(({ name, value }) => ({
      name,
      typed: last[name],
      field: digits(value),
      state: digits((state.typed[FORM]?.[name] ?? state.filled[FORM]?.[name])?.text),
      kept: digits(kept.typed?.texts[name]?.text ?? noted[name]),
    }));
  };
  let seen = await looked();
  const isWrong = () => seen.some(({ typed, field, state, kept }) => [field, state, kept].some((text) => text !== typed));
  // Some of it is still on its way, and while it comes a look may see half of it.
  for (let tries = 0, right = 0; tries < 300 && right < 5; tries++) {
    await wait(100);
    seen = await looked();
    right = isWrong() ? 0 : right + 1;
  }
  dataset.hurried = JSON.stringify({ wrong: isWrong() ? seen : [], looked: seen });
});
