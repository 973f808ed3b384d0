import { Problem } from '../base/problem.js';
import type { Cache } from '../store/cache.js';
import { inputOf } from './containers.js';
import { everyFrameOnce, firstLine, run } from './ffmpeg.js';
import { Waste } from './large.js';
import { distrustPackets, type Probe } from './probe.js';

/** One video file, and how its pixels are brought out. */
export interface VideoSource {
  kind: 'video';
  file: string;
  /** Frames that decode. */
  frames: number;
  /** Their presentation times as stored, seconds; NaN for a frame without one. */
  stamps: Float64Array;
  /** Luma alone where it is BT.601's already, colour otherwise. */
  pixelFormat: 'gray' | 'rgb24';
  /** The stored range: limited is 16..235 for luma. Pixels come out in 0..255 either way. */
  range: 'limited' | 'full';
  /** Where to note that other frames decode than its packets promise; null where all were counted by decoding them. */
  promise: { cache: Cache; contentKey: string } | null;
}

/** ffmpeg's names of the matrices whose luma is BT.601's, and of none given, which small cameras mean by it. */
const luma601 = ['unknown', 'reserved', 'unspecified', 'bt470bg', 'smpte170m'];

/** Chooses how to bring out a video's pixels. */
export function videoSource(file: string, probe: Probe, promise: VideoSource['promise']): VideoSource {
  const grey = /^(gray|ya)(\d|f|$)/.test(probe.pixelFormat);
  const yuv = /^(yuv|nv|uyvy|yuyv|yvyu|p0|p2|p4|y2)/.test(probe.pixelFormat);
  const direct = grey || (yuv && luma601.includes(probe.matrix));
  // Untagged grey, RGB and the old yuvj formats are full range by definition; untagged YUV is limited.
  const untagged = yuv && !probe.pixelFormat.startsWith('yuvj') ? 'limited' : 'full';
  const tagged = probe.range === 'tv' ? 'limited' : probe.range === 'pc' ? 'full' : untagged;
  return {
    kind: 'video',
    file,
    frames: probe.times.length,
    stamps: probe.times,
    pixelFormat: direct ? 'gray' : 'rgb24',
    range: grey || yuv ? tagged : 'full',
    promise,
  };
}

/**
 * Frames of a video by rising index. Every stored frame is decoded once, from the first to the last one asked for; the
 * process is killed when the consumer stops or aborts.
 * @throws Problem 'bad-video' when ffmpeg fails or gives other frames than ffprobe counted; 'needs-ffmpeg'
 */
export async function* videoFrames(
  source: VideoSource,
  size: { width: number; height: number },
  indices: ArrayLike<number>,
  signal?: AbortSignal,
): AsyncGenerator<{ index: number; pixels: Uint8Array; channels: 1 | 3; width: number; height: number }> {
  const channels: 1 | 3 = source.pixelFormat === 'gray' ? 1 : 3;
  const frameBytes = size.width * size.height * channels;
  const decoding = await run('ffmpeg', [
    ...['-v', 'error', '-nostdin', ...sparingly(size), '-noautorotate', ...inputOf(source.file)],
    ...['-map', '0:v:0', ...(await everyFrameOnce())],
    ...['-vf', `scale=in_range=${source.range}:out_range=full:sws_dither=none,format=${source.pixelFormat}`],
    ...['-f', 'rawvideo', 'pipe:1'],
  ]);
  signal?.addEventListener('abort', decoding.kill);
  let frame = 0;
  let filled = 0;
  let wanted = 0;
  let pixels: Uint8Array | null = null;
  const waste = new Waste();
  try {
    for await (const piece of decoding.output as AsyncIterable<Buffer>) {
      for (let at = 0; at < piece.length; ) {
        const take = Math.min(frameBytes - filled, piece.length - at);
        if (frame === indices[wanted]) {
          pixels ??= new Uint8Array(frameBytes);
          pixels.set(piece.subarray(at, at + take), filled);
        }
        at += take;
        filled += take;
        if (filled < frameBytes) continue;
        filled = 0;
        const index = frame++;
        if (pixels) {
          const done = { index, pixels, channels, ...size };
          pixels = null;
          wanted++;
          yield done;
          waste.add(done);
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
        `${source.file}: ffmpeg failed at frame ${frame} (${why || `it ended with ${code}`}); record or copy the video again`,
      );
    }
    if (frame !== source.frames || filled > 0) {
      throw await miscounted(source, frame, why);
    }
  } finally {
    signal?.removeEventListener('abort', decoding.kill);
    decoding.kill();
  }
}

/** Other frames decoded than were counted: where only packets were counted, the next reading starts from what decodes. */
async function miscounted(
  { file, frames, promise }: VideoSource,
  decoded: number,
  why: string,
): Promise<Problem> {
  const said = why ? ` (${why})` : '';
  if (promise) {
    await distrustPackets(
      promise.cache,
      promise.contentKey,
      `${decoded} frames decode, ${frames} were promised`,
    );
    return new Problem(
      'bad-video',
      `${file}: ${decoded} frames decode, but its container promises ${frames}${said}; that is noted: give the same command again, and its frames are found by decoding all of it`,
    );
  }
  return new Problem(
    'bad-video',
    `${file}: ffmpeg decoded ${decoded} frames, but ffprobe counted ${frames}${said}; copy the video into a fresh file (ffmpeg -i in.mp4 -c copy out.mp4), or give the clip as stills`,
  );
}

/** Pixels from which several frames decoded at once, one a thread, would take too much memory. */
const LARGE = 16_000_000;

/** The options that keep large frames from filling the memory. */
export function sparingly({ width, height }: { width: number; height: number }): string[] {
  return width * height > LARGE ? ['-threads', '1'] : [];
}
