// In place of Python: replies to the questions that change something, as short as they can be.
// DEMO, the demo car, is put before this.
/** @param {Car | null} it @returns {WholeCar} */
const copy = (it) => JSON.parse(JSON.stringify(it));
/** @type {Answers} */
const ANSWERS = {
  collar({ car, at, act }) {
    const next = copy(car ?? DEMO);
    /** @param {string} id @param {number} n @param {LogEntry["kind"]} kind @param {string} corner @param {number} turns */
    const entry = (id, n, kind, corner, turns) => ({ id, car: at.car, time: at.time + n / 1000,
      zone: at.zone, kind, corner, turns, note: act.note ?? "",
      stands: Object.fromEntries(Object.entries(next.corners).map(([c, { collar }]) => [c, collar])) });
    const log = at.based ? [] : [entry(at.id + "-0", 0, "base", "", 0)];
    if (act.kind === "turn") next.corners[act.corner ?? ""].collar += Number(act.turns);
    log.push(entry(at.id, 1, /** @type {LogEntry["kind"]} */ (act.kind), act.corner ?? "", Number(act.turns ?? 0)));
    return { car: next, log };
  },
  undo({ car, entry }) {
    const next = copy(car);
    if (entry.corner) next.corners[entry.corner].collar -= entry.turns;
    return { car: next };
  },
  setup({ typed, car }) {
    const { name, date, surface = "", note = "" } = typed;
    const filled = { temperature: "22" };
    return name ? { setup: { name, date, surface, note, car: car ?? DEMO }, filled, problems: {} } : { filled, problems: {} };
  },
  another: ({ car, copies }) => ({ car: copies ? car : DEMO }),
  take: ({ wanted, car, at }) => ({ car: wanted, log: [] }),
  convert: ({ all }) => ({ typed: all }),
};
// All of a Worker that the page uses.
/** @type {any} */ (window).Worker = class {
  /** @type {((event: {data: Told}) => void) | undefined} */
  onmessage;
  /** @param {any} message a question and its number, or the addresses that Python starts with */
  postMessage({ id, runtime, ...question }) {
    const common = { html: "", top: "", lines: "", filled: {}, problems: {} };
    const reply = runtime ? undefined : { ...common, ...(ANSWERS[/** @type {keyof Talk} */ (question.ask)]?.(question) ?? {}) };
    queueMicrotask(() => this.onmessage?.({ data: runtime ? { ready: true } : { id, reply } }));
  }
  terminate() {}
};
