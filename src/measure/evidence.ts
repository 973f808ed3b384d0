import type { Camera } from '../camera/description.js';
import { type Clip, keyFramePulse, luminanceFrames } from '../clip/open.js';
import { luminanceTogether } from '../clip/together.js';
import { meterForMany } from '../engine/compiled/meter.js';
import { Differencer } from '../engine/pipeline.js';
import { memoryOf } from '../engine/reference.js';
import { sampleFrames } from '../engine/sample.js';
import type { Cache } from '../store/cache.js';
import { keyOf } from '../store/key.js';
import type { ColumnSource } from '../sweep/columns.js';
import { BoxMeter, type WithinBoxes } from './boxes.js';
import { boxesKept, boxRows } from './boxes-kept.js';
import { measure, measureTogether } from './pass.js';
import { keepPieces, PieceMeter, type PieceRules, pieceRulesOf, piecesKey, readPieces } from './pieces.js';
import type { Frames, Moment, Track } from './track.js';

export { luminanceFrames };

/**
 * Raised whenever the engine gives other evidence for the same frames, so that evidence kept by an older engine is
 * made again and never mixed in.
 */
export const ENGINE_MEANING = 3;

export interface ReadingOptions {
  cache: Cache;
  onProgress?: (done: number, total: number) => void;
  /** Told what the evidence gives away about the recording itself. */
  onWarning?: (text: string) => void;
  signal?: AbortSignal;
  /** As in `PassOptions`. */
  threads?: number | undefined;
}

/** A clip's evidence under a camera's fixed part, as kept on disk. */
export interface Evidence extends ColumnSource {
  /** Which of the clip's frames were analysed. */
  indices: Uint32Array;
  /** Their times, seconds. */
  times: Float64Array;
  /**
   * How much changed within the boxes of visits in the frames that show them, by the rows of the clip's outcomes. Measured
   * along with the rest; where only this is missing, for the labels are new, from the frames that it takes, when asked for.
   * Null where no visit has a box.
   */
  within: WithinBoxes | null;
}

/** The frames of a clip that a camera analyses, with their times. */
export function analysedFrames(clip: Clip, camera: Camera): Pick<Evidence, 'indices' | 'times'> {
  const indices = sampleFrames(clip.times, clip.seconds, clip.rate, camera.analysis.rate);
  return { indices, times: Float64Array.from(indices, (i) => clip.times[i]!) };
}

/** What else is to be had of a reading, where there is one. */
export interface Besides {
  /** Told of each frame that is measured, in order. */
  watch?: (moment: Moment) => Promise<void> | void;
  /** Keep what changed without the mask as well, for that may be asked for next. */
  unmasked?: boolean;
}

/**
 * Evidence of a clip as it was recorded, for every level from `floor` up. Taken from the cache where it is whole; what is
 * missing is made from the frames, going on from the last chunk that an interrupted run had finished.
 */
export async function evidenceOf(
  clip: Clip,
  camera: Camera,
  mask: Uint8Array | null,
  floor: number,
  options: ReadingOptions,
  besides: Besides = {},
): Promise<Evidence> {
  const noting = new Noting(clip, camera, mask, floor);
  const masks = mask && besides.unmasked ? [mask, null] : [mask];
  const first = { pieces: noting.pieces, watch: besides.watch };
  const [evidence] = (await evidenceAlong(clip, camera, masks, floor, options, first)) as [Evidence];
  await noting.keep(options.cache);
  const { indices } = evidence;
  if (options.onWarning && clip.keyFrames) {
    const changed = (await evidence.columns([floor], 'changed')).get(floor) as Uint32Array;
    const pulse = keyFramePulse(clip, changed, indices);
    if (pulse) options.onWarning(pulse);
  }
  return evidence;
}

/** How a camera looks at a clip, and the lowest level of which evidence is wanted. */
export interface Looking extends Pick<Besides, 'watch'> {
  camera: Camera;
  mask: Uint8Array | null;
  floor: number;
}

/**
 * Makes, in one reading of a clip, whatever evidence of it several cameras lack, so that `evidenceOf` then finds it kept, as it
 * would have made it by itself.
 */
export async function readTogether(
  clip: Clip,
  cameras: readonly Looking[],
  options: ReadingOptions,
): Promise<void> {
  const each = new Map<string, { along: Along; noting: Noting; camera: Camera }>();
  for (const { camera, mask, floor, watch } of cameras) {
    const noting = new Noting(clip, camera, mask, floor);
    const along = alongOf(clip, camera, [mask], floor, { pieces: noting.pieces, watch });
    // Cameras that differ only by what follows the evidence share it.
    const { key } = along.tracks[0]!;
    if (!each.has(key)) each.set(key, { along, noting, camera });
  }
  const all = [...each.values()];
  await measureTogether(
    all.map(({ along }) => along),
    (first) =>
      luminanceTogether(
        clip,
        all.map(({ along, camera: { analysis } }, i) => ({
          width: analysis.width,
          height: analysis.height,
          indices: along.indices.subarray(first[i] ?? along.indices.length),
        })),
        options.signal,
      ),
    options,
  );
  for (const { along, noting } of all) {
    await along.keepBoxes(options);
    await noting.keep(options.cache);
  }
}

/** Notes where a clip changed while its evidence is first measured. */
class Noting {
  readonly pieces: PieceMeter | null;
  private readonly key: string | null;
  private readonly frames: number;

  constructor(clip: Clip, camera: Camera, mask: Uint8Array | null, floor: number) {
    const rules = pieceRulesOf(camera);
    this.pieces = rules && new PieceMeter(rules);
    this.key = rules && piecesKeyOf(clip, camera, mask, floor, rules);
    this.frames = analysedFrames(clip, camera).times.length;
  }

  /** Keeps what was noted, where it is whole. */
  async keep(cache: Cache): Promise<void> {
    const noted = this.pieces?.bytesOf(this.frames);
    if (this.key !== null && noted) await keepPieces(cache, this.key, noted);
  }
}

/** The same under each of several masks, in their order: all that is missing is made in one reading. */
export async function evidenceUnder(
  clip: Clip,
  camera: Camera,
  masks: readonly (Uint8Array | null)[],
  floor: number,
  options: ReadingOptions,
): Promise<Evidence[]> {
  return evidenceAlong(clip, camera, masks, floor, options, null);
}

async function evidenceAlong(
  clip: Clip,
  camera: Camera,
  masks: readonly (Uint8Array | null)[],
  floor: number,
  options: ReadingOptions,
  first: First | null,
): Promise<Evidence[]> {
  const along = alongOf(clip, camera, masks, floor, first);
  const { indices, times, tracks } = along;
  const kept = await measure(framesOf(clip, camera, indices, times, options), tracks, options);
  const within = await along.keepBoxes(options);
  return kept.map((columns, i) => ({ indices, times, ...columns, within: within[i]! }));
}

/** What is measured of a clip as one camera looks at it, a track for each mask. */
interface Along extends Pick<Evidence, 'indices' | 'times'> {
  tracks: Track[];
  /** Keeps what was seen within the boxes of visits; to be called when the tracks are measured. */
  keepBoxes(options: ReadingOptions): Promise<Evidence['within'][]>;
}

/** What goes along with the first of several masks, as far as its evidence is measured now. */
interface First {
  /** Notes where frames changed. */
  pieces: PieceMeter | null;
  watch?: Besides['watch'];
}

/** @param first all other masks are then measured only where it is */
function alongOf(
  clip: Clip,
  camera: Camera,
  masks: readonly (Uint8Array | null)[],
  floor: number,
  first: First | null,
): Along {
  const { indices, times } = analysedFrames(clip, camera);
  const rows = boxRows(clip, camera, times);
  const { width, height } = camera.analysis;
  const meters = masks.map((mask) => rows && new BoxMeter(rows, width, height, floor, mask));
  const tracks = masks.map((mask, i) => ({
    key: evidenceKey(clip, camera, mask, floor, indices, times),
    differencer: { ...camera.analysis, reference: camera.reference, mask },
    floor,
    watch: (moment: Moment) => {
      meters[i]?.take(moment.frame, moment.difference);
      if (i > 0) return;
      first?.pieces?.endFrame(moment.frame);
      return first?.watch?.(moment);
    },
    ...(i === 0 && first?.pieces && { pieces: first.pieces }),
    ...(i > 0 && first && { alongside: true }),
  }));
  const keepBoxes = async (options: ReadingOptions) => {
    const within: (WithinBoxes | null)[] = [];
    for (const [i, { key }] of tracks.entries()) {
      within.push(
        rows &&
          (await boxesKept(
            clip,
            camera,
            masks[i] ?? null,
            key,
            rows,
            meters[i]!,
            { indices, times },
            options,
          )),
      );
    }
    return within;
  };
  return { indices, times, tracks, keepBoxes };
}

/**
 * Where a clip changed, as `stirringOf` reads it: noted when its evidence was first measured, else from the frames, all of them.
 * @param floor that of its evidence
 */
export async function piecesOf(
  clip: Clip,
  camera: Camera,
  mask: Uint8Array | null,
  floor: number,
  rules: PieceRules,
  { cache, signal, onProgress }: ReadingOptions,
): Promise<Uint8Array> {
  const key = piecesKeyOf(clip, camera, mask, floor, rules);
  const kept = await readPieces(cache, key);
  if (kept) return kept;
  const { indices, times } = analysedFrames(clip, camera);
  const { width, height } = camera.analysis;
  const pieces = new PieceMeter(rules);
  const differencer = new Differencer({ ...camera.analysis, reference: camera.reference, mask });
  const meter = meterForMany(width, height, rules.levels.at(-1), pieces);
  let k = 0;
  for await (const y of luminanceFrames(clip, indices, camera.analysis, signal)) {
    meter.take(differencer.next(y, times[k]!));
    meter.areas(pieces);
    pieces.endFrame(k++);
    onProgress?.(k, indices.length);
  }
  const bytes = pieces.bytesOf(times.length) as Uint8Array;
  await keepPieces(cache, key, bytes);
  return bytes;
}

function piecesKeyOf(
  clip: Clip,
  camera: Camera,
  mask: Uint8Array | null,
  floor: number,
  rules: PieceRules,
): string {
  const { indices, times } = analysedFrames(clip, camera);
  return piecesKey(evidenceKey(clip, camera, mask, floor, indices, times), rules);
}

/** Some frames of a clip, as they are measured. */
export function framesOf(
  clip: Clip,
  camera: Camera,
  indices: Uint32Array,
  times: Float64Array,
  { signal }: Pick<ReadingOptions, 'signal'>,
): Frames {
  return {
    times,
    from: (first) => luminanceFrames(clip, indices.subarray(first), camera.analysis, signal),
  };
}

/** Names a clip's evidence under a camera's fixed part: all that it depends on. */
export function evidenceKey(
  clip: Clip,
  camera: Camera,
  mask: Uint8Array | null,
  floor: number,
  indices: Uint32Array,
  times: Float64Array,
): string {
  const { width, height, smooth } = camera.analysis;
  const { whileBusy: _, ...reference } = camera.reference;
  return keyOf(
    [ENGINE_MEANING, clip.contentKey, width, height, smooth, reference, floor],
    indices,
    memoryOf(reference).timed ? times : null,
    mask,
  );
}
