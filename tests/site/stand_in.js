// In place of Python: replies to the questions that change something, as short as they can be.
// DEMO, the demo car, is put before this. A test may give globalThis.slow: each reply waits
// for what it returns. A text with "fault" in it makes a question fail, one with "refuse" is refused.
/** @param {Car | null} it @returns {WholeCar} */
const copy = (it) => JSON.parse(JSON.stringify(it ?? DEMO));
/** A converted number tells by its decimals into what: .54 is inches. @param {string} text @param {string} system */
const inUnits = (text, system) => (/^\d/.test(text) ? `${parseInt(text)}${system === "imperial" ? ".54" : ".10"}` : text);
const BUTTONS = ["keep", "done", "reset"].map((name) => `<button type="button" data-do="${name}">${name}</button>`).join("");
/** @type {(keyof Car["corners"])[]} */
const CORNERS = ["front_left", "front_right", "rear_left", "rear_right"];
/** What was typed goes to the car; choices stay. @param {Talk["keep"][0]} question */
const noted = ({ form, typed, car }) => {
  const next = copy(car);
  const numbers = Object.entries(typed).filter(([, text]) => /^\d/.test(text));
  next.noted = { ...next.noted, [form]: { ...next.noted?.[form], ...Object.fromEntries(numbers) } };
  const left = Object.entries(typed).filter(([, text]) => !/^\d/.test(text));
  return { car: next, typed: Object.fromEntries(left), log: [] };
};
/** @type {Answers} */
const ANSWERS = {
  answer({ form, typed, car, system }) {
    const numbers = Object.entries(/** @type {WholeCar | null} */ (car)?.noted?.[form] ?? {});
    const filled = numbers.filter(([name]) => !(name in typed)).map(([name, text]) => [name, inUnits(text, system)]);
    const said = Object.entries(typed).map(([name, text]) => `<span data-said="${name}">${text}</span>`);
    const html = `<p class="now">${said.join(" ")}</p>${BUTTONS}`;
    const filledIn = Object.fromEntries(filled);
    return { html, filled: filledIn, problems: {}, unusual: {}, origins: {}, assumed: [], open: [], outdated: [], unfinished: [], chapters: {}, steps: {}, demo: !car, rests: "" };
  },
  doubts: () => ({ html: "" }),
  figures: () => ({ html: "" }),
  keep: noted,
  done: noted,
  assume: noted,
  unsaved: () => ({ html: "", outdated: {} }),
  sheet: () => ({ html: "" }),
  unit: ({ text }) => ({ text }),
  log: () => ({ top: "", lines: "" }),
  csv: () => ({ text: "" }),
  build: () => ({ html: "", top: "", parts: {}, problems: {}, records: "", order: [], ready: false }),
  built: ({ car, typed }) => ({ car: copy(car), typed, log: [] }),
  damper: ({ car }) => ({ car: copy(car), log: [] }),
  setups: () => ({ html: "" }),
  compare: () => ({ html: "" }),
  cars: () => ({ html: "" }),
  received: () => ({ html: "", car: DEMO, beside: DEMO, same: "" }),
  collar({ car, at, act }) {
    const next = copy(car);
    /** @param {string} id @param {number} n @param {LogEntry["kind"]} kind @param {LogEntry["corner"]} corner @param {number} turns @returns {LogEntry} */
    const entry = (id, n, kind, corner, turns) => ({ id, car: at.car, time: at.time + n / 1000,
      zone: at.zone, kind, corner, turns, note: act.note ?? "",
      stands: {
        front_left: next.corners.front_left.collar, front_right: next.corners.front_right.collar,
        rear_left: next.corners.rear_left.collar, rear_right: next.corners.rear_right.collar } });
    const log = at.based ? [] : [entry(at.id + "-0", 0, "base", "", 0)];
    const corner = CORNERS.find((one) => one === act.corner);
    if (act.kind === "turn" && corner) next.corners[corner].collar += Number(act.turns);
    log.push(entry(at.id, 1, act.kind === "learn" ? "entered" : act.kind, corner ?? "", Number(act.turns ?? 0)));
    return { car: next, log };
  },
  undo({ car, entry }) {
    const next = copy(car);
    if (entry.corner) next.corners[entry.corner].collar -= entry.turns;
    return { car: next, says: "" };
  },
  setup({ typed, car }) {
    const { name, date, surface = "", note = "" } = typed;
    return name ? { setup: { name, date, surface, note, car: car ?? DEMO }, problems: {} } : { problems: {} };
  },
  another: ({ car, copies }) => ({ car: copies ? car || DEMO : { ...copy(null), name: "My car", demo: false } }),
  share: () => ({ html: "", link: "" }),
  take: ({ wanted }) => ({ car: wanted, log: [] }),
  convert: ({ all, system }) => ({
    typed: Object.fromEntries(Object.entries(all).map(([form, texts]) => [
      form,
      Object.fromEntries(Object.entries(texts).map(([name, text]) => [name, inUnits(text, system)])),
    ])),
  }),
  // A backup is its records as they are; the plan names what it would write over or clear.
  backup: ({ cars, setups, log, builds }) => ({ text: JSON.stringify({ cars, setups, log, builds }), left: "" }),
  restore({ text, way, cars, setups, log }) {
    const theirs = JSON.parse(text);
    /** @param {{id: string, changed: number}} one @param {Index} mine */
    const isWanted = (one, mine) => way === "replace" || !mine[one.id] || one.changed > mine[one.id][0];
    const write = {
      cars: theirs.cars.filter((/** @type {CarInBackup} */ one) => isWanted(one, cars)),
      setups: theirs.setups.filter((/** @type {SetupInBackup} */ one) => isWanted(one, setups))
        .map((/** @type {SetupInBackup} */ one) => ({ ...one, temperature: null })),
      log: theirs.log.filter((/** @type {LogEntry} */ { id }) => !log.includes(id)),
      builds: theirs.builds,
    };
    const changes = [...write.cars, ...write.setups].map(({ id }) => id).join(" ");
    const html = `<p>${changes}; ${write.log.length} of ${log.length}</p><button type="button" data-do="restore">do it</button>`;
    return { clears: way === "replace", write, html };
  },
};
// All of a Worker that the page uses.
/** @type {any} */ (globalThis).Worker = class {
  /** @type {((event: {data: Told}) => void) | undefined} */
  onmessage;
  /** One reply after the other, as from Python. */
  last = Promise.resolve();
  /** @param {any} message a question and its number, or the addresses that Python starts with */
  postMessage({ id, runtime, ...question }) {
    const said = JSON.stringify(question);
    /** @type {Told} */
    let told = { id };
    if (runtime) told = { ready: true };
    else if (said.includes("fault")) told.failed = "a fault of the stand-in";
    else if (said.includes("refuse")) told.reply = { refused: "Refused by the stand-in." };
    else told.reply = ANSWERS[/** @type {keyof Talk} */ (question.ask)](question);
    this.last = this.last.then(async () => {
      await globalThis.slow?.();
      this.onmessage?.({ data: told });
    });
  }
  terminate() {}
};
