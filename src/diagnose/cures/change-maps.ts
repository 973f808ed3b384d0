import { type FileHandle, open, rm } from 'node:fs/promises';
import type { Cache } from '../../store/cache.js';
import { ByteWriter } from '../../store/evidence-codec.js';

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
  /** The maps in order, in the same arrays every time. */
  read(): AsyncIterable<ChangeMap>;
}

export interface ChangeMap {
  /** Which analysed frame. */
  place: number;
  /** 1 where a pixel changed, width * height bytes. */
  changed: Uint8Array;
  /** The same as runs of changed pixels: of each its first pixel and the one after its last, rising. */
  runs: Uint32Array;
}

/** Maps that belong together, by their runs: in memory, or in the file from `offset` on. */
type Chunk = { maps: number } & ({ bytes: Uint8Array } | { offset: number; length: number });

/** Bytes of maps that are kept together. */
const CHUNK_BYTES = 2 ** 20;

/**
 * Takes change maps one by one and keeps them small, as lengths of runs: what changes lies together. Beyond a limit they go to
 * a file in the cache's folder, so that a day of wind needs no more memory than an hour of it; where no file can be made they
 * stay in memory. The file has no name once it is open, so that nothing is left of it however the program ends.
 */
export class ChangeMapWriter {
  private readonly places: number[] = [];
  private readonly chunks: Chunk[] = [];
  private readonly out = new ByteWriter();
  private filled = 0;
  /** What was taken is kept while the next frames come in. */
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
   * @param memory bytes of maps that are held before a file is made
   */
  constructor(
    readonly width: number,
    readonly height: number,
    private readonly level: number,
    private readonly cache: Cache,
    private readonly memory = 32 * 2 ** 20,
  ) {}

  /**
   * Takes the map of an analysed frame; frames come in rising order. The difference is read before it returns, so a
   * caller that cannot wait need not.
   * @param difference `width * height` bytes, masked pixels 0
   */
  append(place: number, difference: Uint8Array): Promise<void> {
    writeRuns(this.out, difference, this.level);
    this.places.push(place);
    this.filled++;
    if (this.out.length >= CHUNK_BYTES) this.flush();
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
    const { filled: maps } = this;
    const bytes = this.out.bytes().slice();
    this.out.clear();
    this.filled = 0;
    this.pending = this.pending.then(() => this.keep(maps, bytes));
    // Whoever waits for it is told; until then a failure must not end the program.
    this.pending.catch(() => undefined);
  }

  private async keep(maps: number, bytes: Uint8Array): Promise<void> {
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

  private read(): AsyncGenerator<ChangeMap> {
    const bytesOf = (chunk: Chunk) => ('bytes' in chunk ? chunk.bytes : this.fromFile(chunk));
    return mapsIn(this, this.places, this.chunks, bytesOf);
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

/** Change maps that are wholly in memory: each chunk holds so many. */
export interface PackedMaps {
  width: number;
  height: number;
  places: readonly number[];
  chunks: readonly { maps: number; bytes: Uint8Array }[];
}

/** Packed maps, to be read. */
export function mapsFrom(packed: PackedMaps): ChangeMaps {
  const { width, height, places, chunks } = packed;
  return { width, height, places, read: () => mapsIn(packed, places, chunks, ({ bytes }) => bytes) };
}

async function* mapsIn<C extends { maps: number }>(
  { width, height }: { width: number; height: number },
  places: readonly number[],
  chunks: readonly C[],
  bytesOf: (chunk: C) => Uint8Array | Promise<Uint8Array>,
): AsyncGenerator<ChangeMap> {
  const changed = new Uint8Array(width * height);
  // A run and the gap after it are two pixels at least.
  const runs = new Uint32Array(width * height + 2);
  let next = 0;
  for (const chunk of chunks) {
    const reader = new RunReader(await bytesOf(chunk));
    for (let m = 0; m < chunk.maps; m++) {
      const length = reader.next(runs);
      changed.fill(0);
      for (let i = 0; i < length; i += 2) changed.fill(1, runs[i]!, runs[i + 1]!);
      yield { place: places[next++]!, changed, runs: runs.subarray(0, length) };
    }
  }
}

/** Of each run of pixels at or above the level how many lie between it and the one before, and how many it is; then 0 and 0. */
function writeRuns(out: ByteWriter, difference: Uint8Array, level: number): void {
  const { length } = difference;
  let last = 0;
  for (let i = 0; i < length; i++) {
    if (difference[i]! < level) continue;
    const from = i++;
    while (i < length && difference[i]! >= level) i++;
    out.varint(from - last);
    out.varint(i - from);
    last = i;
  }
  out.varint(0);
  out.varint(0);
}

/** Reads maps as `writeRuns` wrote them one after the other. */
class RunReader {
  private at = 0;

  constructor(private readonly bytes: Uint8Array) {}

  /** Puts the runs of the next map into `runs`, and says how many numbers they are. */
  next(runs: Uint32Array): number {
    let [n, pixel] = [0, 0];
    for (;;) {
      const gap = this.varint();
      const length = this.varint();
      if (length === 0) return n;
      runs[n++] = pixel + gap;
      pixel += gap + length;
      runs[n++] = pixel;
    }
  }

  private varint(): number {
    let value = 0;
    for (let shift = 0; ; shift += 7) {
      const byte = this.bytes[this.at++]!;
      value |= (byte & 127) << shift;
      if (byte < 128) return value;
    }
  }
}
