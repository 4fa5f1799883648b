// What the scripts of the tests have in the page.

declare const axe: typeof import("axe-core");
declare var eyes: object;

/** The scripts of the page that deeds.js takes, in this order. */
type Modules = [
  log: typeof import("../../static/page/log.js"),
  setups: typeof import("../../static/page/setups.js"),
  cars: typeof import("../../static/page/cars.js"),
  store: typeof import("../../static/page/store.js"),
  db: typeof import("../../static/page/db.js"),
  state: typeof import("../../static/page/state.js"),
  typed: typeof import("../../static/page/typed.js"),
];

/** Those that hurry.js takes. */
type Hurried = [state: typeof import("../../static/page/state.js"), db: typeof import("../../static/page/db.js")];

/** What the stand-in for Python turns. */
interface WholeCar extends Car {
  noted?: Record<string, Texts>;
}
/** Each reply of the stand-in waits for what this returns. */
declare var slow: (() => Promise<unknown>) | undefined;
declare const DEMO: WholeCar;
/** Every question, each with all of its reply. */
type Answers = { [K in keyof Talk]: (question: Talk[K][0]) => Talk[K][1] };
/** Asks the Python beside the browser: language, question as JSON; its reply as JSON. */
declare function askBeside(language: string, question: string): Promise<string>;
/** A wait of some length up to `most` ms, on a device that is slow (tests/late.js). */
declare var late: ((most: number) => Promise<unknown>) | undefined;
