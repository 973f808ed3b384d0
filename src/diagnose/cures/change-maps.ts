import { type FileHandle, open, rm } from 'node:fs/promises';
import { promisify } from 'node:util';
import { deflateRaw, inflateRaw } from 'node:zlib';
import type { Cache } from '../../store/cache.js';

const deflate = promisify(deflateRaw);
const inflate = promisify(inflateRaw);

/**
 * Which pixels changed by at least the threshold, for every analysed frame whose area reaches the minimum. With these
 * a clip is replayed under any further mask exactly and without reading it again: masking only ever takes pixels away,
 * so a frame whose area stays below the minimum without a mask does so with one.
 */
export interface ChangeMaps {
  width: number;
  height: number;
  /** Analysed frames, rising. */
  places: readonly number[];
  /** The maps in order; `changed` holds 1 where a pixel changed, width * height bytes, the same array every time. */
  read(): AsyncIterable<{ place: number; changed: Uint8Array }>;
}

/** Maps that belong together, packed one bit a pixel and compressed: in memory, or in the file from `offset` on. */
type Chunk = { maps: number } & ({ bytes: Uint8Array } | { offset: number; length: number });

/** Bytes of packed maps that are compressed together. */
const CHUNK_BYTES = 2 ** 20;

/**
 * Takes change maps one by one and keeps them small: one bit a pixel, compressed. Beyond a limit they go to a file in
 * the cache's folder, so that a day of wind needs no more memory than an hour of it; where no file can be made they
 * stay in memory. The file has no name once it is open, so that nothing is left of it however the program ends.
 */
export class ChangeMapWriter {
  private readonly places: number[] = [];
  private readonly chunks: Chunk[] = [];
  private readonly mapBytes: number;
  private packed: Uint8Array;
  private filled = 0;
  /** What was taken is compressed and kept while the next frames come in. */
  private pending: Promise<void> = Promise.resolve();
  private inMemory = 0;
  private inFile = 0;
  private file: FileHandle | null = null;
  private fileRefused = false;

  /**
   * @param width in pixels
   * @param height in pixels
   * @param level the smallest whole difference that counts as changed
   * @param cache where the file goes, if one is needed
   * @param memory bytes of compressed maps that are held before a file is made
   */
  constructor(
    readonly width: number,
    readonly height: number,
    private readonly level: number,
    private readonly cache: Cache,
    private readonly memory = 32 * 2 ** 20,
  ) {
    this.mapBytes = Math.ceil((width * height) / 8);
    this.packed = new Uint8Array(this.mapBytes * Math.max(1, Math.floor(CHUNK_BYTES / this.mapBytes)));
  }

  /**
   * Takes the map of an analysed frame; frames come in rising order. The difference is read before it returns, so a
   * caller that cannot wait need not.
   * @param difference `width * height` bytes, masked pixels 0
   */
  append(place: number, difference: Uint8Array): Promise<void> {
    const at = this.filled * this.mapBytes;
    pack(difference, this.level, this.packed.subarray(at, at + this.mapBytes));
    this.places.push(place);
    this.filled++;
    if ((this.filled + 1) * this.mapBytes > this.packed.length) this.flush();
    return this.pending;
  }

  /** The maps taken so far; no more may follow. They can be read as often as wanted until `dispose`. */
  async finish(): Promise<ChangeMaps> {
    this.flush();
    await this.pending;
    const { width, height, places } = this;
    return { width, height, places, read: () => this.read() };
  }

  /** All that was taken, as it is held in memory, once it is finished; null where a part is in the file. */
  get packedMaps(): PackedMaps | null {
    const { width, height, places } = this;
    const chunks = this.chunks.flatMap((chunk) => ('bytes' in chunk ? [chunk] : []));
    return chunks.length === this.chunks.length ? { width, height, places, chunks } : null;
  }

  /** Gives up the file, if there is one; the maps can no longer be read. */
  async dispose(): Promise<void> {
    await this.pending.catch(() => undefined);
    this.chunks.length = 0;
    await this.file?.close();
    this.file = null;
  }

  private flush(): void {
    if (this.filled === 0) return;
    const { packed, filled: maps } = this;
    this.packed = new Uint8Array(packed.length);
    this.filled = 0;
    this.pending = this.pending.then(() => this.keep(maps, packed.subarray(0, maps * this.mapBytes)));
    // Whoever waits for it is told; until then a failure must not end the program.
    this.pending.catch(() => undefined);
  }

  private async keep(maps: number, raw: Uint8Array): Promise<void> {
    const bytes = await deflate(raw, { level: 1 });
    const file = this.inMemory + bytes.length > this.memory ? await this.openFile() : null;
    if (!file) {
      this.chunks.push({ maps, bytes });
      this.inMemory += bytes.length;
      return;
    }
    const written = await file.write(bytes, 0, bytes.length, this.inFile).catch(() => null);
    if (written?.bytesWritten !== bytes.length) {
      // A full disk is no reason to stop; what is in the file already can still be read.
      this.fileRefused = true;
      this.chunks.push({ maps, bytes });
      return;
    }
    this.chunks.push({ maps, offset: this.inFile, length: bytes.length });
    this.inFile += bytes.length;
  }

  private async openFile(): Promise<FileHandle | null> {
    if (this.fileRefused) return null;
    if (this.file) return this.file;
    try {
      const path = await this.cache.place('change-maps');
      this.file = await open(path, 'wx+');
      await rm(path, { force: true });
    } catch {
      this.fileRefused = true;
    }
    return this.file;
  }

  private read(): AsyncGenerator<{ place: number; changed: Uint8Array }> {
    const bytesOf = (chunk: Chunk) => ('bytes' in chunk ? chunk.bytes : this.fromFile(chunk));
    return unpacked(this, this.places, this.chunks, bytesOf);
  }

  private async fromFile({ offset, length }: { offset: number; length: number }): Promise<Uint8Array> {
    if (!this.file) throw new Error('change maps were read after they had been given up');
    const bytes = new Uint8Array(length);
    const { bytesRead } = await this.file.read(bytes, 0, length, offset);
    if (bytesRead < length)
      throw new Error(`${length} bytes of change maps were kept, ${bytesRead} came back`);
    return bytes;
  }
}

/** Change maps that are wholly in memory: each chunk holds so many, one bit a pixel, compressed. */
export interface PackedMaps {
  width: number;
  height: number;
  places: readonly number[];
  chunks: readonly { maps: number; bytes: Uint8Array }[];
}

/** Packed maps, to be read. */
export function mapsFrom(packed: PackedMaps): ChangeMaps {
  const { width, height, places, chunks } = packed;
  return { width, height, places, read: () => unpacked(packed, places, chunks, ({ bytes }) => bytes) };
}

async function* unpacked<C extends { maps: number }>(
  { width, height }: { width: number; height: number },
  places: readonly number[],
  chunks: readonly C[],
  bytesOf: (chunk: C) => Uint8Array | Promise<Uint8Array>,
): AsyncGenerator<{ place: number; changed: Uint8Array }> {
  const changed = new Uint8Array(width * height);
  const mapBytes = Math.ceil((width * height) / 8);
  let next = 0;
  for (const chunk of chunks) {
    const maps = await inflate(await bytesOf(chunk));
    for (let m = 0; m < chunk.maps; m++) {
      unpack(maps.subarray(m * mapBytes, (m + 1) * mapBytes), changed);
      yield { place: places[next++]!, changed };
    }
  }
}

/** One bit for each pixel at or above the level, eight to a byte, the first pixel lowest. */
function pack(difference: Uint8Array, level: number, out: Uint8Array): void {
  for (let byte = 0, i = 0; byte < out.length; byte++) {
    let bits = 0;
    // Past the last pixel the comparison with undefined is false.
    for (let bit = 1; bit < 256; bit <<= 1) if (difference[i++]! >= level) bits |= bit;
    out[byte] = bits;
  }
}

function unpack(bytes: Uint8Array, out: Uint8Array): void {
  out.fill(0);
  for (let byte = 0; byte < bytes.length; byte++) {
    for (let bits = bytes[byte]!, i = 8 * byte; bits !== 0; bits >>= 1, i++) out[i] = bits & 1;
  }
}
