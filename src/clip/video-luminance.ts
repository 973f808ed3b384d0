import { luminance } from '../engine/luminance.js';
import { inputOf } from './containers.js';
import { everyFrameOnce, run } from './ffmpeg.js';
import { asStored, type Outlet, reducedTo, type Size } from './outlet.js';
import { sparingly, videoFrames } from './video.js';
import { type Enterable, entryBefore } from './video-entry.js';
import type { VideoSource } from './video-source.js';

/** Grey levels. The contract allows 1 on average; frames between those tried may be somewhat worse. */
const MOST_DIFFERENCE = 0.75;

/**
 * Luminance of frames at some size, by rising index; the same array every time. ffmpeg reduces them where frames of the video
 * show that it does so within a grey level of our own area average; else whole planes come through the pipe.
 * @throws Problem 'bad-video', 'needs-ffmpeg'; the signal's reason when aborted
 */
export async function* videoLuminance(
  video: Enterable,
  indices: ArrayLike<number>,
  to: Size,
  signal?: AbortSignal,
): AsyncGenerator<Uint8Array> {
  const { source } = video;
  const y = new Uint8Array(to.width * to.height);
  const entry = await entryBefore(video, indices[0] ?? 0);
  if (await isReducible(video, to)) {
    const reading = videoFrames(source, video, reducedTo(source, to), indices, { signal, into: y, entry });
    for await (const { pixels } of reading) yield pixels;
    return;
  }
  const outlet = asStored(source, video);
  const into = new Uint8Array(video.width * video.height * outlet.channels);
  for await (const { pixels } of videoFrames(source, video, outlet, indices, { signal, into, entry })) {
    yield averageOf(video, pixels, to, y);
  }
}

/** Our own area average of a whole plane as it is stored. */
export function averageOf(
  { source, width, height }: Enterable,
  pixels: Uint8Array,
  to: Size,
  out?: Uint8Array,
): Uint8Array {
  return source.pixelFormat === 'gray'
    ? luminance(pixels, 1, width, height, to.width, to.height, out, source.range)
    : luminance(pixels, 3, width, height, to.width, to.height, out);
}

/** What was found in this run, for one clip is read several times. */
const known = new WeakMap<VideoSource, Map<string, Promise<boolean>>>();

/** Whether ffmpeg's reduction to some size is as good as ours; whoever asked first does not stop the others' finding out. */
export function isReducible(video: Enterable, to: Size): Promise<boolean> {
  const ofVideo = known.get(video.source) ?? new Map<string, Promise<boolean>>();
  known.set(video.source, ofVideo);
  const key = `${to.width}x${to.height}`;
  const finding = ofVideo.get(key) ?? tryReducing(video, to);
  ofVideo.set(key, finding);
  finding.catch(() => ofVideo.delete(key));
  return finding;
}

async function tryReducing(video: Enterable, to: Size): Promise<boolean> {
  const { source, width, height } = video;
  const isSmaller = to.width <= width && to.height <= height && to.width * to.height < width * height;
  if (source.pixelFormat !== 'gray' || !isSmaller) return false;
  let tried = 0;
  for (const time of placesOf(video)) {
    const [whole, reduced] = await Promise.all([
      frameFrom(video, time, asStored(source, video)),
      frameFrom(video, time, reducedTo(source, to)),
    ]);
    // What cannot be brought out here is told of when its turn comes.
    if (!whole || !reduced) continue;
    if (!(meanDifference(averageOf(video, whole, to), reduced) <= MOST_DIFFERENCE)) return false;
    tried++;
  }
  return tried > 0;
}

/** Times at which decoding may begin, from all over the video; null: at its beginning. */
function placesOf({ source, keyFrames = new Uint32Array() }: Enterable): (number | null)[] {
  const halfway = keyFrames[keyFrames.length >> 1] ?? 0;
  const last = keyFrames.at(-1) ?? 0;
  const later = [...new Set([halfway, last])].filter((key) => key > 0 && Number.isFinite(source.stamps[key]));
  return [null, ...later.map((key) => source.stamps[key]!)];
}

/** The first frame that comes when decoding begins at a time: the same one, however it is brought out. */
async function frameFrom(
  { source, width, height }: Enterable,
  time: number | null,
  outlet: Outlet,
): Promise<Uint8Array | null> {
  const decoding = await run('ffmpeg', [
    ...['-v', 'error', '-nostdin', ...sparingly({ width, height }), '-noautorotate'],
    ...(time === null ? [] : ['-seek_timestamp', '1', '-noaccurate_seek', '-ss', String(time)]),
    ...[...inputOf(source.file), '-map', '0:v:0', ...(await everyFrameOnce())],
    ...['-vf', outlet.filters, '-frames:v', '1', '-f', 'rawvideo', 'pipe:1'],
  ]);
  const pieces: Buffer[] = [];
  for await (const piece of decoding.output as AsyncIterable<Buffer>) pieces.push(piece);
  const bytes = Buffer.concat(pieces);
  return bytes.length === outlet.width * outlet.height * outlet.channels ? bytes : null;
}

function meanDifference(a: Uint8Array, b: Uint8Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += Math.abs(a[i]! - b[i]!);
  return sum / a.length;
}
