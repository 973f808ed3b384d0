import { promisify } from 'node:util';
import { deflateRaw, inflateRaw } from 'node:zlib';
import type { AreaKind, ColumnSource, Columns } from '../sweep/columns.js';
import type { Cache } from './cache.js';
import { ByteWriter, decodeColumns, type EvidenceRow, encodeRow } from './evidence-codec.js';
import { headerLength, seal, unseal } from './seal.js';

export type { EvidenceRow } from './evidence-codec.js';

const deflate = promisify(deflateRaw);
const inflate = promisify(inflateRaw);

/** Evidence that was kept is not whole: whoever meets it removes the set and makes it again. */
export class DamagedEvidence extends Error {
  override readonly name = 'DamagedEvidence';
}

/**
 * The evidence of one clip through one camera, on disk, in chunks of some hundred frames, each compressed and sealed
 * with a check sum. Chunks are pure functions of key and content and are written whole, so two runs that make the same
 * set at once write the same bytes over each other and do no harm.
 */
export class EvidenceStore implements ColumnSource {
  readonly #cache: Cache;
  readonly #key: string;
  readonly #frames: number;
  readonly #floor: number;
  readonly #chunkFrames: number;
  readonly #rows = new ByteWriter();
  #next = 0;
  #chunkJustDone = false;

  /**
   * @param key names the set: letters, digits, - and _; everything the evidence depends on must be part of it
   * @param frames rows of the whole set
   * @param floor lowest level kept; counts below it are not
   */
  constructor(cache: Cache, key: string, frames: number, floor: number, chunkFrames = 512) {
    if (!/^[\w-]+$/.test(key)) throw new RangeError(`not a key for evidence: ${key}`);
    this.#cache = cache;
    this.#key = key;
    this.#frames = frames;
    this.#floor = floor;
    this.#chunkFrames = chunkFrames;
  }

  /**
   * Where an interrupted run can go on: the next frame to append and the state kept with it. All chunks before it are
   * there and whole. Null: start with frame 0. Rows appended afterwards count from here.
   */
  async resumePoint(): Promise<{ frame: number; state: Uint8Array } | null> {
    this.#restart(0);
    let whole = 0;
    while (whole < this.#chunks && (await this.#body(whole)) !== null) whole++;
    let best: { frame: number; state: Uint8Array } | null = null;
    for (const slot of [0, 1]) {
      const bytes = await this.#cache.read(this.#statePath(slot));
      for (let chunk = whole; bytes && chunk > 0; chunk--) {
        const frame = chunk * this.#chunkFrames;
        if (frame >= this.#frames || frame <= (best?.frame ?? 0)) continue;
        const state = unseal(bytes, {
          kind: 'state',
          key: this.#key,
          first: frame,
          count: 0,
          floor: this.#floor,
        });
        // A copy of its own, so that it may be viewed as floats.
        if (state) best = { frame, state: new Uint8Array(state) };
      }
    }
    if (best) this.#restart(best.frame);
    return best;
  }

  /** Takes the next frame's row; each full chunk, and the last, is written as soon as it is complete. */
  async append(row: EvidenceRow): Promise<void> {
    if (this.#next >= this.#frames)
      throw new RangeError(`the evidence already holds its ${this.#frames} frames`);
    encodeRow(this.#rows, row, this.#floor);
    this.#next++;
    this.#chunkJustDone = this.#next % this.#chunkFrames === 0 || this.#next === this.#frames;
    if (!this.#chunkJustDone) return;
    const chunk = Math.ceil(this.#next / this.#chunkFrames) - 1;
    // Level 1: the rows are already short; higher levels take longer and gain little.
    const body = await deflate(this.#rows.bytes(), { level: 1 });
    await this.#cache.write(this.#chunkPath(chunk), seal(body, this.#chunkSeal(chunk)));
    this.#rows.clear();
    if (this.#next === this.#frames) await this.#dropStates();
  }

  /** Keeps the state to go on from, when a chunk was just finished and more are to come; `state` is called only then. */
  async checkpoint(state: () => Uint8Array): Promise<void> {
    if (!this.#chunkJustDone || this.#next === this.#frames) return;
    // Two slots in turn, so that one damaged state leaves the one before it.
    const slot = (this.#next / this.#chunkFrames) % 2;
    const about = { kind: 'state', key: this.#key, first: this.#next, count: 0, floor: this.#floor } as const;
    await this.#cache.write(this.#statePath(slot), seal(state(), about));
  }

  /** Whether every chunk is there, by its header and size; check sums are verified when chunks are read. */
  async complete(): Promise<boolean> {
    for (let chunk = 0; chunk < this.#chunks; chunk++) {
      const head = await this.#cache.head(this.#chunkPath(chunk), headerLength);
      if (!head || !unseal(head.bytes, this.#chunkSeal(chunk), head.size)) return false;
    }
    return true;
  }

  /**
   * The counts of all frames at some levels.
   * @param levels whole numbers from the floor to 255
   * @returns for each level one array with a count for each frame
   * @throws DamagedEvidence when a chunk is missing or not whole
   */
  async columns(levels: readonly number[], kind: AreaKind): Promise<Columns> {
    return (await this.#decode(levels, [kind]))[kind] as Columns;
  }

  /**
   * As `columns`, of both kinds: each chunk is read, verified and inflated once for the two.
   * @throws DamagedEvidence when a chunk is missing or not whole
   */
  async bothColumns(levels: readonly number[]): Promise<Record<AreaKind, Columns>> {
    return (await this.#decode(levels, ['region', 'changed'])) as Record<AreaKind, Columns>;
  }

  async #decode(
    levels: readonly number[],
    kinds: readonly AreaKind[],
  ): Promise<Partial<Record<AreaKind, Columns>>> {
    const falling = [...new Set(levels)].sort((a, b) => b - a);
    for (const level of falling) {
      if (!Number.isInteger(level) || level < this.#floor || level > 255) {
        throw new RangeError(`no evidence is kept at level ${level}; it is kept from ${this.#floor} to 255`);
      }
    }
    const into: Partial<Record<AreaKind, Uint32Array[]>> = {};
    for (const kind of kinds) into[kind] = falling.map(() => new Uint32Array(this.#frames));
    for (let chunk = 0; chunk < this.#chunks; chunk++) {
      const body = await this.#body(chunk);
      const rows = body && (await inflate(body).catch(() => null));
      const { first, count } = this.#chunkSeal(chunk);
      if (!rows || !decodeColumns(rows, count, first, falling, into)) {
        throw new DamagedEvidence(`evidence ${this.#key}: chunk ${chunk} is missing or not whole`);
      }
    }
    const byLevel = (columns: readonly Uint32Array[]) =>
      new Map(falling.map((level, i) => [level, columns[i]!]));
    return Object.fromEntries(Object.entries(into).map(([kind, columns]) => [kind, byLevel(columns)]));
  }

  /** Removes the whole set; the next row is frame 0's. */
  async remove(): Promise<void> {
    await this.#cache.remove(['evidence', this.#key]);
    this.#restart(0);
  }

  get #chunks(): number {
    return Math.ceil(this.#frames / this.#chunkFrames);
  }

  #restart(frame: number): void {
    this.#rows.clear();
    this.#next = frame;
    this.#chunkJustDone = false;
  }

  #chunkPath(chunk: number): string[] {
    return ['evidence', this.#key, `chunk-${String(chunk).padStart(6, '0')}`];
  }

  #statePath(slot: number): string[] {
    return ['evidence', this.#key, `state-${slot}`];
  }

  #chunkSeal(chunk: number) {
    const first = chunk * this.#chunkFrames;
    const count = Math.min(this.#chunkFrames, this.#frames - first);
    return { kind: 'chunk', key: this.#key, first, count, floor: this.#floor } as const;
  }

  async #body(chunk: number): Promise<Uint8Array | null> {
    const bytes = await this.#cache.read(this.#chunkPath(chunk));
    return bytes && unseal(bytes, this.#chunkSeal(chunk));
  }

  async #dropStates(): Promise<void> {
    for (const slot of [0, 1]) await this.#cache.remove(this.#statePath(slot));
  }
}
