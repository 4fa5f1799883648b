// What the worker of Python has beside a browser's own things.

/** In the edition that is one file: addresses of all parts by name. */
declare var parts: Record<string, string> | undefined;

/** The Python module site_src.live.worker. */
interface Live {
  answer: (request: string) => string;
  speak: (code: string, words: string) => void;
}

/** What the build tells of the memory image: site_src/build/image. */
interface Facts {
  sha256: string;
  memory: number;
  runtime: string;
  hiwire: ReturnType<RuntimeModule["API"]["restoreSnapshot"]>;
}
