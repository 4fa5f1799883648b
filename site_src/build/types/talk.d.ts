// What the page and its worker say to each other: how Python starts, the questions, the replies.

/** Absolute; `words` are those of the language, English needs none. */
interface Addresses {
  runtime: string;
  app: string;
  image?: string;
  words?: string;
  language: string;
}

/** Without a car Python takes the demo car. */
interface OfForm {
  form: string;
  typed: Texts;
  car: Car | null;
  system: string;
}
/** What an entry of the log needs to know; `based` where the car has a base already. */
interface Moment {
  id: string;
  car: string;
  time: number;
  zone: number;
  based: boolean;
}
/** What is done at the collars, as it was typed; home goes back to `base`. */
interface Act {
  kind: LogEntry["kind"] | "home";
  corner?: string;
  turns?: string;
  way?: string;
  note?: string;
  base?: LogEntry;
}
interface Made {
  car: Car;
  log?: LogEntry[];
  typed?: Texts;
}
interface Html {
  html: string;
}
interface Compared {
  name: string;
  car: Car;
  now?: boolean;
  id?: string;
}
interface SetupInBackup {
  id: string;
  changed: number;
  owner: string;
  setup: Setup;
}
/** Its car may be gone: then the set-up is left out. */
interface SetupToBackUp extends Omit<SetupInBackup, "setup"> {
  setup: Omit<Setup, "car"> & { car: Car | undefined };
}
type CarInBackup = Omit<CarRecord, "revision">;
/** Of records that are there: when each was changed, what it is called. */
type Index = Record<string, [changed: number, name: string]>;
interface Received extends Html {
  car: Car;
  beside: Car;
  same: string;
}
interface Plan extends Html {
  clears: boolean;
  write: { cars: CarInBackup[]; setups: SetupInBackup[]; log: LogEntry[] };
}
interface Answer extends Html {
  problems: Texts;
  filled: Texts;
  steps: Record<string, string[]>;
  demo: boolean;
}

/** By name of the question what it says and what comes back: site_src/live/questions.py and those it takes in. */
interface Talk {
  answer: [OfForm, Answer];
  figures: [OfForm, Html];
  keep: [OfForm & { at: Moment }, Made];
  done: [OfForm & { at: Moment }, Made];
  sheet: [
    {
      car: Car | null;
      system: string;
      made: string | undefined;
      size: string;
      blocks: string[];
      address: string;
      today: string;
    },
    Html,
  ];
  convert: [{ all: Record<string, Texts>; before: string; system: string }, { typed: Record<string, Texts> }];
  unit: [
    { form: string; name: string; text: string; first: string; car: Car | null; system: string },
    { text: string },
  ];
  log: [
    { car: Car | null; system: string; entries: LogEntry[]; now: number; zone: number },
    { top: string; lines: string },
  ];
  collar: [{ car: Car | null; at: Moment; act: Act }, Made];
  undo: [{ car: Car | null; entry: LogEntry }, { car: Car }];
  csv: [{ entries: LogEntry[]; names: Texts }, { text: string }];
  setups: [{ heads: SetupHead[]; system: string }, Html];
  setup: [{ typed: Texts; car: Car | null; system: string }, { setup?: Setup; problems: Texts; filled: Texts }];
  compare: [{ one: Compared; other: Compared; system: string }, Html];
  take: [{ car: Car | null; at: Moment; wanted: Car; name: string }, Made];
  cars: [{ cars: { id: string; name: string; demo: boolean }[]; current: string }, Html];
  another: [{ car?: Car; copies: boolean; names: string[] }, { car: Car }];
  backup: [
    { now: number; cars: CarInBackup[]; setups: SetupToBackUp[]; log: LogEntry[] },
    { text: string; left: string },
  ];
  restore: [{ text: string; way: string; zone: number; cars: Index; setups: Index; log: string[] }, Plan];
  received: [{ text: string; names: Texts }, Received];
}
type Question<K extends keyof Talk> = { ask: K } & Talk[K][0];
type Reply<K extends keyof Talk> = Talk[K][1];

/** What the worker sends: that Python is up, a reply, or why there is none. Replies are Python's JSON. */
type Told = { ready?: true; id?: number; reply?: any; failed?: string };
