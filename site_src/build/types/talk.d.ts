// What the page and its worker say to each other: how Python starts, the questions, the replies.
// The table of the questions, Talk, is made from Python: site_src/build/declarations.py.

/** Absolute; `words` are those of the language, English needs none. */
interface Addresses {
  runtime: string;
  app: string;
  image?: string;
  words?: string;
  language: string;
}

type System = Talk["log"][0]["system"];
type Way = Talk["restore"][0]["way"];
/** Of records that are there: when each was changed, what it is called. */
type Index = Talk["restore"][0]["cars"];
type Question<K extends keyof Talk> = { ask: K } & Talk[K][0];
type Reply<K extends keyof Talk> = Talk[K][1];

/**
 * What the worker sends: that Python is up or why it is not, how much of it has come, a reply or why
 * there is none. Replies are Python's JSON.
 */
type Told = {
  ready?: true;
  stock?: boolean;
  id?: number;
  reply?: any;
  failed?: string;
  fatal?: boolean;
  unreached?: boolean;
  arrived?: number;
  of?: number;
};
