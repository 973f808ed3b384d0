import { createHash } from 'node:crypto';

/**
 * Collects what kept results depend on, part by part, into a key of 64 hexadecimal digits (SHA-256). Each part goes in
 * with its kind and length, so that no other parts come to the same by running together.
 */
export class KeyMaker {
  readonly #hash = createHash('sha256');

  /**
   * @param part typed arrays as their bytes, in this machine's order; all else as JSON, so nothing within it may be a
   * typed array
   */
  add(part: unknown): this {
    if (ArrayBuffer.isView(part)) {
      const bytes = new Uint8Array(part.buffer, part.byteOffset, part.byteLength);
      this.#hash.update(`bytes ${bytes.length}:`).update(bytes);
      return this;
    }
    const text = JSON.stringify(part);
    if (text === undefined) throw new RangeError(`not a part of a key: ${String(part)}`);
    this.#hash.update(`json ${text.length}:${text}`);
    return this;
  }

  key(): string {
    return this.#hash.digest('hex');
  }
}

/** The key of some parts: see KeyMaker. */
export function keyOf(...parts: readonly unknown[]): string {
  const maker = new KeyMaker();
  for (const part of parts) maker.add(part);
  return maker.key();
}

/**
 * The key of values as one JSON array: SHA-256, hexadecimal. Its value never changes, for it stands in files of users
 * and names what takes minutes to draw; for all else there is keyOf.
 */
export function jsonKey(...values: readonly unknown[]): string {
  return createHash('sha256').update(JSON.stringify(values)).digest('hex');
}
