// @ts-check
/**
 * What the build has packed (packing.py), unpacked while it arrives. The build puts the decoder
 * above this. A file is whole only when its last byte has come and its hash is right: else the
 * stream fails, whatever it has passed on.
 */
self.unpacking = () => {
  const HEAD = 40; // bytes of the first frame
  const HASH = 8; // its place there
  /** @type {Uint8Array<ArrayBuffer>[]} */
  const pieces = [];
  /** @type {import("fzstd").Decompress} */
  let decoder;
  return new TransformStream({
    start(controller) {
      decoder = new fzstd.Decompress((piece) => {
        if (piece.length) controller.enqueue(piece);
      });
    },
    transform(piece) {
      pieces.push(piece);
      decoder.push(piece);
    },
    async flush() {
      decoder.push(new Uint8Array(), true);
      const packed = await new Blob(pieces).arrayBuffer();
      const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", packed.slice(HEAD)));
      const told = new Uint8Array(packed, HASH, HEAD - HASH);
      if (hash.some((byte, i) => byte !== told[i])) throw new Error("a file is damaged");
    },
  });
};
