import { Problem } from '../base/problem.js';
import { inputOf } from './containers.js';
import { complaintIn, everyFrameOnce, run } from './ffmpeg.js';
import { JpegParts } from './jpeg-parts.js';
import { cutOf, type Look } from './look.js';
import { sparingly } from './video.js';
import type { VideoSource } from './video-source.js';

/** The scale of mjpeg's quantisers: 2 is the finest that is used. */
const QUALITY = '4';

/** A video as far as pictures of it are concerned. */
export interface Seekable {
  source: VideoSource;
  width: number;
  height: number;
  /** Rising. */
  keyFrames?: Uint32Array | undefined;
}

/**
 * A run of a video's frames as JPEGs to be looked at, in colour, as they come. Decoding begins at the key frame before; which
 * frame is which is told by their own times, as probing the whole video found them. Where that is not certain (frames without
 * times or in disorder, a file in which ffmpeg cannot seek, pictures that come out otherwise than from the key frame before
 * that one), it is read from its beginning.
 * @param first index of the run's first frame
 * @param count frames; the run ends before the video does
 * @throws Problem 'bad-video', 'needs-ffmpeg'; the signal's reason when aborted
 */
export async function* videoPictures(
  video: Seekable,
  first: number,
  count: number,
  look: Look,
  signal?: AbortSignal,
): AsyncGenerator<Uint8Array> {
  const key = keyBefore(video, first);
  let given = 0;
  if (key > 0 && isTimed(video.source.stamps, key, first, count) && (await canSeek(video))) {
    for await (const jpeg of decoded(video, first, count, look, key, signal)) {
      given++;
      yield jpeg;
    }
  }
  if (given === count) return;
  let read = 0;
  for await (const jpeg of decoded(video, first + given, count - given, look, 0, signal)) {
    read++;
    yield jpeg;
  }
  if (given + read === count) return;
  throw new Problem(
    'bad-video',
    `${video.source.file}: frame ${first + given + read} cannot be read again; copy the video into a fresh file (ffmpeg -i in.mp4 -c copy out.mp4)`,
  );
}

/** The last key frame at or before a frame; 0 where none is known. */
function keyBefore({ keyFrames = new Uint32Array() }: Seekable, frame: number): number {
  return keyFrames.findLast((key) => key <= frame) ?? 0;
}

/** Whether the times around a run tell its frames from all others. */
function isTimed(stamps: Float64Array, key: number, first: number, count: number): boolean {
  const around = stamps.subarray(Math.max(0, key - 1), first + count + 1);
  return around.every((stamp, i) => Number.isFinite(stamp) && (i === 0 || stamp > around[i - 1]!));
}

/** @param key from which decoding begins, at its time; 0: from the beginning, and frames are counted */
async function* decoded(
  { source, width, height }: Seekable,
  first: number,
  count: number,
  look: Look,
  key: number,
  signal?: AbortSignal,
): AsyncGenerator<Uint8Array> {
  signal?.throwIfAborted();
  const cut = cutOf(look, { width, height });
  const { stamps } = source;
  const last = first + count - 1;
  const wanted = key > 0 ? inTime(stamps, first, last) : `between(n,${first},${last})`;
  const filters = [
    `select='${wanted}'`,
    `crop=w=${cut.width}:h=${cut.height}:x=${cut.left}:y=${cut.top}:exact=1`,
    `scale=w=${cut.toWidth}:h=${cut.toHeight}:flags=area:in_range=${source.range}:out_range=full:out_color_matrix=bt601`,
    'format=yuvj420p',
  ];
  const decoding = await run('ffmpeg', [
    ...['-v', 'error', '-nostdin', ...sparingly({ width, height }), '-noautorotate', '-copyts'],
    ...(key > 0 ? ['-seek_timestamp', '1', '-noaccurate_seek', '-ss', String(stamps[key])] : []),
    ...[...inputOf(source.file), '-map', '0:v:0', ...(await everyFrameOnce())],
    ...['-vf', filters.join(), '-frames:v', String(count)],
    ...['-c:v', 'mjpeg', '-q:v', QUALITY, '-f', 'mpjpeg', 'pipe:1'],
  ]);
  signal?.addEventListener('abort', decoding.kill);
  // It may have been given up while ffmpeg was being started.
  if (signal?.aborted) decoding.kill();
  try {
    const parts = new JpegParts();
    for await (const piece of decoding.output as AsyncIterable<Buffer>) {
      for (const jpeg of parts.add(piece)) {
        yield jpeg;
        signal?.throwIfAborted();
      }
    }
    signal?.throwIfAborted();
    const { code, errors } = await decoding.ended;
    if (code === 0) return;
    throw new Problem(
      'bad-video',
      `${source.file}: ffmpeg failed near frame ${first} (${complaintIn(errors) || `it ended with ${code}`}); record or copy the video again`,
    );
  } finally {
    signal?.removeEventListener('abort', decoding.kill);
    decoding.kill();
  }
}

/**
 * An expression that is true for the frames of a run, by their times, for as long as none is left out: where the file was
 * entered too late nothing is taken, rather than a later frame for an earlier one.
 */
function inTime(stamps: Float64Array, first: number, last: number): string {
  let longest = 0;
  for (let i = first; i < last; i++) longest = Math.max(longest, stamps[i + 1]! - stamps[i]!);
  const next = `lt(t,prev_selected_t+${1.5 * longest})`;
  return `between(t,${halfway(stamps, first - 1)},${halfway(stamps, last)})*if(isnan(prev_selected_t),lt(t,${halfway(stamps, first)}),${next})`;
}

/** A time between a frame's and the next one's. */
function halfway(stamps: Float64Array, frame: number): number {
  const [before, after] = [stamps[frame]!, stamps[frame + 1]];
  return after === undefined ? before + 1 : (before + after) / 2;
}

/** Key frames at which it is tried whether a video can be begun there. */
const TRIED = 3;
/** As wide as that takes to see. */
const TRIED_LOOK: Look = { box: null, width: 320 };

const known = new WeakMap<VideoSource, Promise<boolean>>();

/**
 * Whether what is decoded from a key frame on is what is decoded from the one before it: pictures may lean on what came
 * before their key frame (intra refresh), and a file without an index may be entered elsewhere. Tried on a few key frames,
 * for all that will ever be asked of the video: whoever asked first does not stop it.
 */
function canSeek(video: Seekable): Promise<boolean> {
  const before = known.get(video.source);
  if (before) return before;
  const trying = tryToSeek(video);
  known.set(video.source, trying);
  trying.catch(() => known.delete(video.source));
  return trying;
}

async function tryToSeek(video: Seekable): Promise<boolean> {
  const { keyFrames = new Uint32Array(), source } = video;
  const fit = [...keyFrames.keys()].filter((i) => i > 0 && keyFrames[i]! + 1 < source.frames);
  for (let i = 0; i < Math.min(TRIED, fit.length); i++) {
    const place = fit[Math.floor(((i + 0.5) * fit.length) / Math.min(TRIED, fit.length))]!;
    const [key, earlier] = [keyFrames[place]!, keyFrames[place - 1]!];
    if (!isTimed(source.stamps, earlier, key, 2)) return false;
    const [here, there] = [
      await all(decoded(video, key, 2, TRIED_LOOK, key)),
      await all(decoded(video, key, 2, TRIED_LOOK, earlier)),
    ];
    if (here.length !== 2 || !here.every((jpeg, k) => Buffer.from(jpeg).equals(there[k] ?? new Uint8Array())))
      return false;
  }
  return true;
}

async function all(pictures: AsyncIterable<Uint8Array>): Promise<Uint8Array[]> {
  const list: Uint8Array[] = [];
  for await (const picture of pictures) list.push(picture);
  return list;
}
