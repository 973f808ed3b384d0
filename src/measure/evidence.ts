import type { Camera } from '../camera/description.js';
import { type Clip, keyFramePulse, luminanceFrames } from '../clip/open.js';
import { luminanceTogether } from '../clip/together.js';
import type { Cache } from '../store/cache.js';
import type { ColumnSource } from '../sweep/columns.js';
import { type Analysed, analysedFrames } from './analysed.js';
import { BoxMeter, type WithinBoxes } from './boxes.js';
import { boxesKept, boxRows } from './boxes-kept.js';
import { evidenceKey } from './evidence-key.js';
import { measure, measureTogether } from './pass.js';
import type { PieceMeter } from './pieces.js';
import { PieceNotes } from './pieces-kept.js';
import type { Frames, Moment, Track } from './track.js';

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
export interface Evidence extends ColumnSource, Analysed {
  /**
   * How much changed within the boxes of visits in the frames that show them, by the rows of the clip's outcomes. Measured
   * along with the rest; where only this is missing, for the labels are new, from the frames that it takes, when asked for.
   * Null where no visit has a box.
   */
  within: WithinBoxes | null;
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
  const noting = new PieceNotes(clip, camera, mask, floor);
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
  const each = new Map<string, { along: Along; noting: PieceNotes; camera: Camera }>();
  for (const { camera, mask, floor, watch } of cameras) {
    const noting = new PieceNotes(clip, camera, mask, floor);
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
interface Along extends Analysed {
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
