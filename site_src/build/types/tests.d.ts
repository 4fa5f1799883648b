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
];

declare const DEMO: Car;
/** Every question, each with all of its reply. */
type Answers = { [K in keyof Talk]: (question: Talk[K][0]) => Talk[K][1] };
