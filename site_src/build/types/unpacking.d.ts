// What unpacking.js has beside a browser's own things, and gives to both workers.

declare const fzstd: typeof import("fzstd");

/** A stream that unpacks what the build has packed. */
declare var unpacking: () => TransformStream<Uint8Array<ArrayBuffer>, Uint8Array>;
