import { createHash } from 'node:crypto';
import { crc32 } from 'node:zlib';

/** What a sealed file must be; every byte of a header follows from it and from the body, so any change is noticed. */
export interface Seal {
  kind: 'chunk' | 'state';
  key: string;
  /** First frame of a chunk; the next frame of a state. */
  first: number;
  count: number;
  floor: number;
}

/** Raised whenever the meaning of the bytes changes; older files are then made again. */
const formatVersion = 1;
/** Bytes: magic 4, version 1, kind 1, floor 2, key 16, first 4, count 4, body length 4, body CRC-32 4; little-endian. */
export const headerLength = 40;

/** Header and body in one buffer. */
export function seal(body: Uint8Array, about: Seal): Buffer {
  return Buffer.concat([header(about, body.length, crc32(body)), body]);
}

/**
 * The body of a sealed file, or null when it is not whole or not what it should be.
 * @param size when only the head of the file was read: the whole file's size; the body is then empty and unchecked
 */
export function unseal(bytes: Uint8Array, about: Seal, size?: number): Uint8Array | null {
  if (bytes.length < headerLength) return null;
  const body = bytes.subarray(headerLength);
  const bodyLength = (size ?? bytes.length) - headerLength;
  const sum = size === undefined ? crc32(body) : Buffer.from(bytes).readUInt32LE(36);
  const expected = header(about, bodyLength, sum);
  return expected.equals(bytes.subarray(0, headerLength)) ? body : null;
}

function header(about: Seal, bodyLength: number, sum: number): Buffer {
  const head = Buffer.alloc(headerLength);
  head.write('PEVD', 0, 'latin1');
  head.writeUInt8(formatVersion, 4);
  head.writeUInt8(about.kind === 'chunk' ? 1 : 2, 5);
  head.writeUInt16LE(about.floor, 6);
  createHash('sha256').update(about.key).digest().copy(head, 8, 0, 16);
  head.writeUInt32LE(about.first, 24);
  head.writeUInt32LE(about.count, 28);
  head.writeUInt32LE(bodyLength, 32);
  head.writeUInt32LE(sum, 36);
  return head;
}
