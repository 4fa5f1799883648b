// Counts every step that the page makes in the database; at the one given it stands still for ever.
// Before that it does one thing after another, and tells what is kept after each.
/** @param {[base: string, seed: number, stopAt: number]} given */
async ([base, seed, stopAt]) => {
  const [log, setups, cars, store, db, { state: shown }, { type }] = /** @type {Modules} */ (
    await Promise.all(["log", "setups", "cars", "store", "db", "state", "typed"]
    .map((name) => import(new URL(name + ".js", base).href))));
  let state = seed, count = 0, stop = Infinity;
  const chance = (/** @type {number} */ n) => (state = (state * 48271) % 2147483647) % n;
  for (const kind of [IDBObjectStore, IDBIndex, IDBDatabase])
    for (const name of ["get", "put", "add", "delete", "clear", "getAll", "getAllKeys", "openCursor", "transaction"]) {
      const real = Object.getOwnPropertyDescriptor(kind.prototype, name)?.value;
      // Whatever has a function of that name: no type follows there.
      if (real) /** @type {any} */ (kind.prototype)[name] = function (/** @type {unknown[]} */ ...given) {
        if (++count >= stop) hang();
        return real.apply(this, given);
      };
    }
  const hang = () => {
    console.log("stopped");
    const never = new XMLHttpRequest();
    never.open("GET", "never-answered", false);
    never.send();
  };
  const CORNERS = ["front_left", "front_right", "rear_left", "rear_right"];
  /** @param {DOMStringMap} dataset @returns {any} all of a button that an action looks at */
  const button = (dataset) => ({ dataset });
  const some = async (/** @type {"cars"} */ name) => {
    const ids = await db.read((tx) => tx.objectStore(name).getAllKeys());
    return ids[chance(ids.length || 1)] ?? "";
  };
  const ticked = async (/** @type {string} */ action) => {
    const [head] = await db.read((tx) => tx.objectStore("setups").getAll());
    if (!head) return;
    const list = /** @type {HTMLElement} */ (document.getElementById("setups-list"));
    list.innerHTML = '<li><input type="checkbox" checked></li>';
    /** @type {HTMLInputElement} */ (list.querySelector("input")).value = head.id;
    await setups.actions[action](button({}));
  };
  const form = /** @type {HTMLFormElement} */ (document.getElementById("setups-save"));
  const fields = /** @type {{name: HTMLInputElement, date: HTMLInputElement} & HTMLFormControlsCollection} */ (form.elements);
  /** @type {Record<string, () => Promise<unknown>>} */
  const DEEDS = {
    turn: () => log.actions.turn(button({ corner: CORNERS[chance(4)], turns: String((chance(9) - 4) / 4) })),
    base: () => log.actions.base(button({})),
    back: async () => {
      const { newest } = await store.ends(shown.current);
      if (newest && newest.kind !== "base") await log.actions["take-back"](button({ id: newest.id }));
    },
    type: () => type("collar-turns", "pitch", String(chance(100))),
    save: async () => {
      fields.name.value = "saved " + chance(1000);
      fields.date.value = "2031-05-24";
      await setups.actions["save-setup"](button({}));
    },
    copy: () => ticked("copy-setup"),
    drop: () => ticked("delete-setup"),
    car: () => cars.actions["new-car"](button({})),
    another: async () => { const id = await some("cars"); if (id) await cars.actions["copy-car"](button({ id })); },
    change: async () => { const id = await some("cars"); if (id) await cars.actions["switch-car"](button({ id })); },
    sell: async () => { const id = await some("cars"); if (id && chance(2)) await cars.actions["delete-car"](button({ id })); },
  };
  const names = Object.keys(DEEDS);
  const digest = async () => JSON.stringify(await db.read(async (tx) => Object.fromEntries(await Promise.all(
    db.STORES.map(async (name) => [name, await tx.objectStore(name).getAll()])))));
  for (let n = 0; ; n++) {
    const kept = await digest();
    console.log("kept " + kept);
    if (n === 2) { count = 0; stop = stopAt; }
    await DEEDS[names[chance(names.length)]]();
    if (n > 40) { console.log("stopped"); return; }
  }
}
