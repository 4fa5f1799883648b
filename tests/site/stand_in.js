// In place of Python: replies to all questions, as short as they can be. What changes something is
// done; nothing is shown. DEMO, the demo car, is put before this.
/** @param {Car | null} car @returns {Car} */
const copy = (car) => JSON.parse(JSON.stringify(car ?? DEMO));
/** @type {(keyof Car["corners"])[]} */
const CORNERS = ["front_left", "front_right", "rear_left", "rear_right"];
const nothing = { html: "" };
/** @type {Answers} */
const ANSWERS = {
  answer: () => ({ html: "", problems: {}, filled: {}, steps: {}, demo: true }),
  figures: () => nothing,
  keep: ({ car }) => ({ car: copy(car), typed: {}, log: [] }),
  done: ({ car }) => ({ car: copy(car), typed: {}, log: [] }),
  sheet: () => nothing,
  convert: ({ all }) => ({ typed: all }),
  unit: ({ text }) => ({ text }),
  log: () => ({ top: "", lines: "" }),
  collar({ car, at, act }) {
    const next = copy(car);
    /** @param {string} id @param {number} n @param {LogEntry["kind"]} kind @param {LogEntry["corner"]} corner @param {number} turns @returns {LogEntry} */
    const entry = (id, n, kind, corner, turns) => ({ id, car: at.car, time: at.time + n / 1000,
      zone: at.zone, kind, corner, turns, note: act.note ?? "", stands: {
        front_left: next.corners.front_left.collar, front_right: next.corners.front_right.collar,
        rear_left: next.corners.rear_left.collar, rear_right: next.corners.rear_right.collar } });
    const log = at.based ? [] : [entry(at.id + "-0", 0, "base", "", 0)];
    if (act.kind === "home") {
      for (const corner of CORNERS) {
        const turns = (act.base?.stands[corner] ?? 0) - next.corners[corner].collar;
        next.corners[corner].collar += turns;
        if (turns) log.push(entry(`${at.id}-${corner}`, log.length, "turn", corner, turns));
      }
      return { car: next, log };
    }
    const corner = CORNERS.find((one) => one === act.corner) ?? "";
    if (act.kind === "turn" && corner) next.corners[corner].collar += Number(act.turns);
    log.push(entry(at.id, 1, act.kind, corner, Number(act.turns ?? 0)));
    return { car: next, log };
  },
  undo({ car, entry }) {
    const next = copy(car);
    if (entry.corner) next.corners[entry.corner].collar -= entry.turns;
    return { car: next };
  },
  csv: () => ({ text: "" }),
  setups: () => nothing,
  setup({ typed, car }) {
    const { name, date, surface = "", note = "" } = typed;
    const filled = { temperature: "22" };
    return name ? { setup: { name, date, surface, note, car: car ?? DEMO }, filled, problems: {} } : { filled, problems: {} };
  },
  compare: () => nothing,
  take: ({ wanted }) => ({ car: wanted, log: [] }),
  cars: () => nothing,
  another: ({ car, copies }) => ({ car: (copies && car) || DEMO }),
  backup: () => ({ text: "" }),
  restore: () => ({ html: "", clears: false, write: { cars: [], setups: [], log: [] } }),
  received: () => ({ html: "", car: DEMO, beside: DEMO, same: "" }),
};
// All of a Worker that the page uses.
/** @type {any} */ (globalThis).Worker = class {
  /** @type {((event: {data: Told}) => void) | undefined} */
  onmessage;
  /** @param {any} message a question and its number, or the addresses that Python starts with */
  postMessage({ id, runtime, ...question }) {
    const reply = runtime ? undefined : ANSWERS[/** @type {keyof Talk} */ (question.ask)](question);
    queueMicrotask(() => this.onmessage?.({ data: runtime ? { ready: true } : { id, reply } }));
  }
  terminate() {}
};
