import { Problem } from '../base/problem.js';
import type { Range } from '../engine/luminance.js';
import type { Cache } from '../store/cache.js';
import { inputOf } from './containers.js';
import { everyFrameOnce, firstLine, run } from './ffmpeg.js';
import { Waste } from './large.js';
import { distrustPackets, type Probe } from './probe.js';
import { selectionOf } from './selection.js';

/** One video file, and how its pixels are brought out. */
export interface VideoSource {
  kind: 'video';
  file: string;
  /** Frames that decode. */
  frames: number;
  /** Their presentation times as stored, seconds; NaN for a frame without one. */
  stamps: Float64Array;
  /** What is measured: luma where that is stored, colour otherwise. */
  pixelFormat: 'gray' | 'rgb24';
  /** The stored range: limited is 16..235 for luma. */
  range: Range;
  /** Where to note that other frames decode than its packets promise; null where all were counted by decoding them. */
  promise: { cache: Cache; contentKey: string } | null;
}

/**
 * Chooses how to bring out a video's pixels. Of YUV the luma plane as it is stored counts, whatever its matrix: it is what a
 * camera compares.
 */
export function videoSource(file: string, probe: Probe, promise: VideoSource['promise']): VideoSource {
  const grey = /^(gray|ya)(\d|f|$)/.test(probe.pixelFormat);
  const yuv = /^(yuv|nv|uyvy|yuyv|yvyu|p0|p2|p4|y2)/.test(probe.pixelFormat);
  // Untagged grey, RGB and the old yuvj formats are full range by definition; untagged YUV is limited.
  const untagged = yuv && !probe.pixelFormat.startsWith('yuvj') ? 'limited' : 'full';
  const tagged = probe.range === 'tv' ? 'limited' : probe.range === 'pc' ? 'full' : untagged;
  return {
    kind: 'video',
    file,
    frames: probe.times.length,
    stamps: probe.times,
    pixelFormat: grey || yuv ? 'gray' : 'rgb24',
    range: grey || yuv ? tagged : 'full',
    promise,
  };
}

/** A way of bringing frames out of ffmpeg. */
export interface Outlet {
  /** Filters that each frame goes through. */
  filters: string;
  /** Of what comes out, 8 bits a channel, channels interleaved. */
  width: number;
  height: number;
  channels: 1 | 3;
}

/** Pixels to be looked at. Colours are those of BT.601, whose luma then is the one that is stored. */
export function inColour({ range }: VideoSource, { width, height }: Size): Outlet {
  const filters = `scale=in_range=${range}:out_range=full:in_color_matrix=bt601:sws_dither=none,format=rgb24`;
  return { filters, width, height, channels: 3 };
}

/** The luma plane as it is stored, range and all (of more than 8 bits the upper 8); where none is, colours. */
export function asStored(source: VideoSource, size: Size): Outlet {
  if (source.pixelFormat === 'rgb24') return inColour(source, size);
  // Equal ranges on both sides: the plane is copied.
  return { filters: 'scale=in_range=full:out_range=full:sws_dither=none,format=gray', ...size, channels: 1 };
}

/** Luma in 0..255, brought to a smaller size by area average in fixed point. */
export function reducedTo({ range }: VideoSource, { width, height }: Size): Outlet {
  const scaling = `w=${width}:h=${height}:flags=area+accurate_rnd:in_range=${range}:out_range=full:sws_dither=none`;
  return { filters: `scale=${scaling},format=gray`, width, height, channels: 1 };
}

interface Size {
  width: number;
  height: number;
}

/**
 * Frames of a video by rising index. Every stored frame up to the last one asked for is decoded once; those not asked for are
 * not brought out where an expression can tell them. The process is killed when the consumer stops or aborts.
 * @param size as stored
 * @param into all frames are written into it, one over the other; left out: each into its own
 * @throws Problem 'bad-video' when ffmpeg fails or gives other frames than were counted; 'needs-ffmpeg'
 */
export async function* videoFrames(
  source: VideoSource,
  size: Size,
  outlet: Outlet,
  indices: ArrayLike<number>,
  { signal, into }: { signal?: AbortSignal | undefined; into?: Uint8Array } = {},
): AsyncGenerator<{ index: number; pixels: Uint8Array; channels: 1 | 3; width: number; height: number }> {
  const { channels, width, height } = outlet;
  const frameBytes = width * height * channels;
  const selection = selectionOf(indices);
  const selecting = selection === null ? '' : `select='${selection}',`;
  const decoding = await run('ffmpeg', [
    ...['-v', 'error', '-nostdin', ...sparingly(size), '-noautorotate', ...inputOf(source.file)],
    ...['-map', '0:v:0', ...(await everyFrameOnce())],
    ...['-vf', selecting + outlet.filters, '-f', 'rawvideo', 'pipe:1'],
  ]);
  signal?.addEventListener('abort', decoding.kill);
  // It may have been given up while ffmpeg was being started.
  if (signal?.aborted) decoding.kill();
  // Frames that come out: of those selected, or of all.
  const indexOf = (frame: number) => (selection === null ? frame : (indices[frame] ?? source.frames));
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
        if (wanted === indices.length && index < source.frames - 1) return;
      }
    }
    signal?.throwIfAborted();
    const { code, errors } = await decoding.ended;
    const why = firstLine(errors);
    if (code !== 0) {
      throw new Problem(
        'bad-video',
        `${source.file}: ffmpeg failed at frame ${indexOf(frame)} (${why || `it ended with ${code}`}); record or copy the video again`,
      );
    }
    const due = selection === null ? source.frames : indices.length;
    if (frame !== due || filled > 0) throw await miscounted(source, selection === null ? frame : null, why);
  } finally {
    signal?.removeEventListener('abort', decoding.kill);
    decoding.kill();
  }
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
    return new Problem(
      'bad-video',
      `${file}: ${found} frames decode, but its container promises ${frames}${said}; that is noted: give the same command again, and its frames are found by decoding all of it`,
    );
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
