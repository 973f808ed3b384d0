import { Problem } from '../base/problem.js';
import { inputOf } from './containers.js';
import { complaintIn, everyFrameOnce, run } from './ffmpeg.js';
import { Waste } from './large.js';
import type { Outlet, Size } from './outlet.js';
import { distrustPackets, noteDamage } from './probe.js';
import { Recounted } from './recounted.js';
import { selectionOf } from './selection.js';
import type { VideoSource } from './video-source.js';
import { damageWarning } from './video-warnings.js';

export interface FrameOptions {
  signal?: AbortSignal | undefined;
  /** All frames are written into it, one over the other; left out: each into its own. */
  into?: Uint8Array;
  /** The key frame at which decoding begins, where that was proved to be exact (video-entry.ts); left out: the first frame. */
  entry?: number;
}

/**
 * Frames of a video by rising index. Every stored frame up to the last one asked for is decoded once; those not asked for are
 * not brought out where an expression can tell them. The process is killed when the consumer stops or aborts.
 * @param size as stored
 * @throws Problem 'bad-video' when ffmpeg fails or gives other frames than were counted; 'needs-ffmpeg'
 */
export async function* videoFrames(
  source: VideoSource,
  size: Size,
  outlet: Outlet,
  indices: ArrayLike<number>,
  { signal, into, entry = 0 }: FrameOptions = {},
): AsyncGenerator<{ index: number; pixels: Uint8Array; channels: 1 | 3; width: number; height: number }> {
  const { channels, width, height } = outlet;
  const frameBytes = width * height * channels;
  const chosen = selectionOf(Uint32Array.from(indices, (index) => index - entry));
  const proved = chosen !== null && isNearEnd(indices, source.frames);
  const selection = proved ? `${chosen}+eq(n,${source.frames - 1 - entry})` : chosen;
  const decoding = await run('ffmpeg', await decodingOf(source, size, outlet, { selection, entry }));
  signal?.addEventListener('abort', decoding.kill);
  // It may have been given up while ffmpeg was being started.
  if (signal?.aborted) decoding.kill();
  // Frames that come out: of those selected, or of all.
  const indexOf = (frame: number) => (selection === null ? entry + frame : (indices[frame] ?? source.frames));
  let frame = 0;
  let filled = 0;
  let wanted = 0;
  let pixels: Uint8Array | null = null;
  const waste = new Waste();
  try {
    for await (const piece of decoding.output as AsyncIterable<Buffer>) {
      for (let at = 0; at < piece.length; ) {
        const take = Math.min(frameBytes - filled, piece.length - at);
        if (indexOf(frame) === indices[wanted]) {
          pixels ??= into ?? new Uint8Array(frameBytes);
          pixels.set(piece.subarray(at, at + take), filled);
        }
        at += take;
        filled += take;
        if (filled < frameBytes) continue;
        filled = 0;
        const index = indexOf(frame++);
        if (pixels) {
          const done = { index, pixels, channels, width, height };
          pixels = null;
          wanted++;
          yield done;
          if (!into) waste.add(done);
          signal?.throwIfAborted();
        }
        // The last frame is read to the end of the output, so that frames too many are noticed.
        if (wanted === indices.length && index < source.frames - 1 && !proved) return;
      }
    }
    signal?.throwIfAborted();
    const { code, errors } = await decoding.ended;
    const why = complaintIn(errors);
    if (code !== 0) {
      throw new Problem(
        'bad-video',
        `${source.file}: ffmpeg failed at frame ${indexOf(frame)} (${why || `it ended with ${code}`}); record or copy the video again`,
      );
    }
    const due = selection === null ? source.frames - entry : indices.length + Number(proved);
    if (frame !== due || filled > 0) {
      throw await miscounted(source, selection === null ? entry + frame : null, why);
    }
    const { promise } = source;
    // Entered in the middle a decoder complains of what it has not seen, which says nothing.
    if (why !== '' && promise && entry === 0 && (await noteDamage(promise.cache, promise.contentKey, why)))
      promise.onDamage(damageWarning(source.file, why));
  } finally {
    signal?.removeEventListener('abort', decoding.kill);
    decoding.kill();
  }
}

/**
 * Whether frames reach so near the end that the last of the video is worth decoding too: where one is missing on the way,
 * frames chosen by their numbers are all there, but later ones than were meant, and the last is not.
 */
function isNearEnd(indices: ArrayLike<number>, frames: number): boolean {
  const [first, last] = [indices[0]!, indices[indices.length - 1]!];
  const rest = frames - 1 - last;
  return rest > 0 && rest * (indices.length - 1) <= last - first;
}

/** What ffmpeg is told, to bring out all frames from a key frame on, or some of them by their numbers from there. */
export async function decodingOf(
  { file, stamps }: VideoSource,
  size: Size,
  outlet: Outlet,
  { selection, entry }: { selection: string | null; entry: number },
): Promise<string[]> {
  const seeking = ['-copyts', '-seek_timestamp', '1', '-noaccurate_seek', '-ss', String(stamps[entry])];
  const filters = [
    ...(entry > 0 ? [`select='${fromFrame(stamps, entry)}'`] : []),
    ...(selection === null ? [] : [`select='${selection}'`]),
    outlet.filters,
  ];
  return [
    ...['-v', 'error', '-nostdin', ...sparingly(size), '-noautorotate', ...(entry > 0 ? seeking : [])],
    ...[...inputOf(file), '-map', '0:v:0', ...(await everyFrameOnce())],
    ...['-vf', filters.join(), '-f', 'rawvideo', 'pipe:1'],
  ];
}

/** True from a frame on, by its time: where the file was entered after it, nothing is taken at all. */
function fromFrame(stamps: Float64Array, frame: number): string {
  const [before, at, after] = stamps.subarray(frame - 1, frame + 2) as unknown as [number, number, number];
  return `gte(t,${(before + at) / 2})*if(isnan(prev_selected_t),lt(t,${(at + after) / 2}),1)`;
}

/**
 * Other frames decoded than were counted: where only packets were counted, the next reading starts from what decodes.
 * @param decoded null: fewer, and nobody knows how many
 */
async function miscounted(
  { file, frames, promise }: VideoSource,
  decoded: number | null,
  why: string,
): Promise<Problem> {
  const said = why ? ` (${why})` : '';
  const found = decoded === null ? 'fewer' : String(decoded);
  if (promise) {
    const doubt = `${found} frames decode, ${frames} were promised`;
    await distrustPackets(promise.cache, promise.contentKey, doubt);
    return new Recounted(`${file}: ${found} frames decode, but its container promises ${frames}${said}`);
  }
  return new Problem(
    'bad-video',
    `${file}: ffmpeg decoded ${found} frames, but ffprobe counted ${frames}${said}; copy the video into a fresh file (ffmpeg -i in.mp4 -c copy out.mp4), or give the clip as stills`,
  );
}

/** Pixels from which several frames decoded at once, one a thread, would take too much memory. */
const LARGE = 16_000_000;

/** The options that keep large frames from filling the memory. */
export function sparingly({ width, height }: Size): string[] {
  return width * height > LARGE ? ['-threads', '1'] : [];
}
