// What this device keeps: see static/page/db.js for the stores. Car, LogEntry and Setup, which Python
// writes, are made from its records: site_src/build/declarations.py.

import type { DBSchema, IDBPDatabase, IDBPTransaction, OpenDBCallbacks } from "idb";

declare global {
  /** Name of a field -> what was typed in it. */
  type Texts = Record<string, string>;
  /** A text with the units it is meant in, and when it was typed (ms since 1970; 0: by nobody, or not known); the paths of all work undone since. */
  interface Entered {
    text: string;
    system: System;
    time: number;
    undone?: string[];
  }
  /** By name of the field. */
  type Entries = Record<string, Entered>;

  interface CarRecord {
    id: string;
    revision: number;
    changed: number;
    car: Car;
    /** When it was deleted: it can be brought back for a while. */
    gone?: number;
  }
  interface TypedRecord {
    car: string;
    form: string;
    texts: Entries;
    /** By field, when the newest text that was taken out of it had been typed. */
    removed?: Record<string, number>;
  }
  interface SetupHead extends SetupLine {
    revision: number;
    changed: number;
    owner: string;
  }
  interface SetupBody {
    id: string;
    car: Car;
  }
  /** What is kept under "page"; the first version may have left parts of it out. */
  interface Settings {
    system?: System;
    last?: string;
    current?: string;
  }

  interface Schema extends DBSchema {
    cars: { key: string; value: CarRecord };
    typed: { key: [car: string, form: string]; value: TypedRecord };
    log: {
      key: string;
      value: LogEntry;
      indexes: { time: [car: string, time: number]; kind: [car: string, kind: string, time: number] };
    };
    setups: { key: string; value: SetupHead };
    setup_cars: { key: string; value: SetupBody };
    /** By name: "page" settings, "backup" the time of the last one. */
    settings: { key: string; value: Settings | number };
  }
  type Store = "cars" | "typed" | "log" | "setups" | "setup_cars" | "settings";
  type Database = IDBPDatabase<Schema>;
  type Change = IDBPTransaction<Schema, Store[], "readwrite">;
  type Upgrade = IDBPTransaction<Schema, Store[], "versionchange">;
  /** Any of them, to read in. */
  type Transaction = IDBPTransaction<Schema, Store[], IDBTransactionMode>;
  /** Stores whose records carry their revision, and a record that has none yet or an old one. */
  type Revised = "cars" | "setups";
  type Unrevised<S extends Revised> = {
    [K in S]: Omit<Schema[K]["value"], "revision" | "changed"> & { changed?: number };
  }[S];
  /** Stores, each with records of its own kind: that these belong together, no type of a list can say. */
  type ByStore = [store: Store, records: any[]][];
  type Everything = { [S in Store]: Schema[S]["value"][] };
  type Callbacks = OpenDBCallbacks<Schema>;

  /** What version 1 kept as one text. */
  interface First {
    system?: System;
    last?: string;
    car?: Car;
    typed?: Record<string, Texts>;
  }
}
