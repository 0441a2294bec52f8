// @ts-check
// The fingerprint of a file, as the program takes it: SHA-256 over the length
// and the content, all of it for a small file, else blocks spread evenly from
// the first byte to the last. See timeline/media.

const prefix = 'rec1-';
const wholeBelow = 4 << 20;
const count = 32;
const block = 64 << 10;

/** Where the blocks of a file of this size begin, and how long each is. @param {number} size @returns {[number, number][]} */
export function blocks(size) {
  if (size <= wholeBelow) return [[0, size]];
  const room = BigInt(size - block);
  return Array.from({ length: count }, (_, i) => [Number((room * BigInt(i)) / BigInt(count - 1)), block]);
}

/** @param {Blob} file @returns {Promise<string>} */
export async function fingerprint(file) {
  const parts = blocks(file.size);
  const all = new Uint8Array(8 + parts.reduce((n, [, length]) => n + length, 0));
  new DataView(all.buffer).setBigUint64(0, BigInt(file.size));
  let at = 8;
  for (const [from, length] of parts) {
    all.set(new Uint8Array(await file.slice(from, from + length).arrayBuffer()), at);
    at += length;
  }
  const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', all));
  return prefix + [...sum].map((b) => b.toString(16).padStart(2, '0')).join('');
}
