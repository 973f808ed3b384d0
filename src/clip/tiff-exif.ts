import type { FileHandle } from 'node:fs/promises';
import { readAt } from './read-at.js';

/** Tags of the EXIF standard (CIPA DC-008): where its directory stands, and in that when a picture was taken. */
const EXIF_DIRECTORY = 0x8769;
const TIMES = [
  0x9003, // DateTimeOriginal
  0x9011, // OffsetTimeOriginal
  0x9291, // SubSecTimeOriginal
];
const ASCII = 2;
const LONG = 4;
/** Bytes of a time as text; what is longer is none. */
const MOST_TEXT = 64;

/** Bytes of a header, of an entry of a directory, and of a value that stands within its entry (TIFF 6.0, section 2). */
const HEADER = 8;
const ENTRY = 12;
const WITHIN = 4;

/** One entry of a directory: its 12 bytes as stored. */
interface Entry {
  tag: number;
  type: number;
  count: number;
  /** The value, or where it stands. */
  value: number;
  bytes: Buffer;
}

/**
 * The times that a TIFF's EXIF directory tells, as a TIFF of nothing else. Directories and values are sought where the file says that
 * they are, so that of a file of any size some kilobytes are read.
 * @returns null where there are none, or the file is none that this reads (BigTIFF)
 */
export async function tiffExif(handle: FileHandle): Promise<Buffer | null> {
  const header = await readAt(handle, 0, HEADER);
  const order = { II: true, MM: false }[header.toString('latin1', 0, 2)];
  if (order === undefined || header.length < HEADER) return null;
  const file = new TiffFile(handle, order);
  if (file.two(header, 2) !== 42) return null;
  const main = await file.directory(file.four(header, 4));
  const pointer = main.find(({ tag, type }) => tag === EXIF_DIRECTORY && type === LONG);
  if (!pointer) return null;
  const texts: { entry: Entry; text: Buffer }[] = [];
  for (const entry of await file.directory(pointer.value)) {
    if (!TIMES.includes(entry.tag) || entry.type !== ASCII || entry.count > MOST_TEXT) continue;
    texts.push({ entry, text: await file.text(entry) });
  }
  return texts.length === 0 ? null : file.tiffOf(pointer, texts);
}

class TiffFile {
  /** @param isLittle whether the lowest byte of a number is its first */
  constructor(
    private readonly handle: FileHandle,
    private readonly isLittle: boolean,
  ) {}

  two(bytes: Buffer, at: number): number {
    return this.isLittle ? bytes.readUInt16LE(at) : bytes.readUInt16BE(at);
  }

  four(bytes: Buffer, at: number): number {
    return this.isLittle ? bytes.readUInt32LE(at) : bytes.readUInt32BE(at);
  }

  /** The entries of a directory, as far as the file holds them. */
  async directory(at: number): Promise<Entry[]> {
    const head = await readAt(this.handle, at, 2);
    if (head.length < 2) return [];
    const all = await readAt(this.handle, at + 2, this.two(head, 0) * ENTRY);
    return Array.from({ length: Math.floor(all.length / ENTRY) }, (_, i) => {
      const bytes = all.subarray(i * ENTRY, (i + 1) * ENTRY);
      return {
        tag: this.two(bytes, 0),
        type: this.two(bytes, 2),
        count: this.four(bytes, 4),
        value: this.four(bytes, 8),
        bytes,
      };
    });
  }

  async text({ count, value, bytes }: Entry): Promise<Buffer> {
    return count <= WITHIN ? bytes.subarray(8, 8 + count) : readAt(this.handle, value, count);
  }

  /** A TIFF whose main directory leads to one of some texts. */
  tiffOf(pointer: Entry, texts: readonly { entry: Entry; text: Buffer }[]): Buffer {
    const inner = HEADER + 2 + ENTRY + 4;
    let end = inner + 2 + texts.length * ENTRY + 4;
    const tiff = Buffer.alloc(end + texts.reduce((sum, { text }) => sum + text.length, 0));
    tiff.write(this.isLittle ? 'II' : 'MM', 'latin1');
    this.put(tiff, 2, 2, 42);
    this.put(tiff, 4, 4, HEADER);
    this.put(tiff, HEADER, 2, 1);
    pointer.bytes.copy(tiff, HEADER + 2);
    this.put(tiff, HEADER + 2 + 8, 4, inner);
    this.put(tiff, inner, 2, texts.length);
    for (const [i, { entry, text }] of texts.entries()) {
      const at = inner + 2 + i * ENTRY;
      entry.bytes.copy(tiff, at);
      this.put(tiff, at + 4, 4, text.length);
      if (entry.count <= WITHIN) continue;
      this.put(tiff, at + 8, 4, end);
      end += text.copy(tiff, end);
    }
    return tiff;
  }

  private put(tiff: Buffer, at: number, bytes: 2 | 4, value: number): void {
    if (this.isLittle) tiff.writeUIntLE(value, at, bytes);
    else tiff.writeUIntBE(value, at, bytes);
  }
}
