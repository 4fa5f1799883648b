// What the page has beside a browser's own things.

/** What early.js begins and ask.js takes over. */
interface Early {
  addresses: Addresses;
  launch: (name?: string) => Worker;
  worker: Worker;
  /** What came back before ask.js did. */
  heard: Told[];
  start: () => void;
  ask: (question: string) => void;
  /** The question that went to the worker before ask.js came, with the number 0. */
  asked?: string;
  /** The last one whose answer is on screen. */
  answered?: { page: string; question: string };
}
/** Not there yet while the edition that is one file begins. */
declare var early: Early | undefined;
/** How a worker begins in that edition. */
declare var launchAlone: Early["launch"] | undefined;

/** What local.js remembers, by name. */
interface Remembered {
  used: string[];
  /** Texts to be kept; as pages left them until units stood beside each text: by car and form. */
  unkept: import("../../static/page/typed.js").Edit[] | { system: System; unkept: Record<string, Record<string, Texts>> };
  /** By damper. */
  timers: Record<string, { end?: number; seen?: number; back?: number }>;
  /** The version of the page that was. */
  practised: string | undefined;
  "install-never": boolean;
}

// No standard, and not in every browser.
interface BeforeInstallPromptEvent extends Event {
  prompt(): Promise<unknown>;
}
interface WindowEventMap {
  beforeinstallprompt: BeforeInstallPromptEvent;
}
interface Navigator {
  standalone?: boolean;
}

// The build puts the library beside our scripts.
declare module "*/idb.js" {
  export * from "idb";
}
