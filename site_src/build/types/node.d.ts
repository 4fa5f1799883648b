// What image/make.mjs uses of Node. Declarations of all of it would be two packages more to fetch.

declare module "node:crypto" {
  const crypto: { randomFillSync: (view: Uint8Array) => Uint8Array };
  export default crypto;
}
declare module "node:fs" {
  export function readFileSync(path: string): Buffer;
  export function readFileSync(path: string, encoding: "utf8"): string;
  export function writeFileSync(path: string, content: string | Uint8Array): void;
}
declare module "node:path" {
  export function dirname(path: string): string;
  export function join(...parts: string[]): string;
  export function resolve(...parts: string[]): string;
}
declare module "node:url" {
  export function fileURLToPath(url: string): string;
  export function pathToFileURL(path: string): URL;
}

interface Buffer extends Uint8Array<ArrayBuffer> {
  equals(other: Uint8Array): boolean;
}
declare const Buffer: {
  from(content: ArrayBufferLike, start?: number, length?: number): Buffer;
  concat(parts: Uint8Array[]): Buffer;
};
declare const process: { argv: string[]; exit(code: number): never };

/** What the runtime has inside and does not declare. */
interface Inside extends RuntimeModule {
  __PyRuntime: number;
  __PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET: number;
  _malloc(size: number): number;
  _sbrk(by: number): number;
}
type Python = import("pyodide").PyodideAPI & {
  _module: Inside;
  makeMemorySnapshot(): Uint8Array<ArrayBuffer>;
};
/** Declared as a list that cannot grow; it can, until the module is made. */
type PreRun = ((module: RuntimeModule) => void)[];
