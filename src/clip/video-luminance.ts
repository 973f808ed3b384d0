import { luminance } from '../engine/luminance.js';
import { inputOf } from './containers.js';
import { heardVersion, run } from './ffmpeg.js';
import { asStored, reducedTo, type Size } from './outlet.js';
import { videoFrames } from './video.js';
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
  const places = placesOf(video);
  // One run of ffmpeg, for starting it takes longer than the frames. It gives nothing where any place does: then each is asked.
  const together = await triedAt(video, places, to);
  const tried = [...(together ?? [])];
  // What cannot be brought out here is told of when its turn comes.
  if (!together) for (const time of places) tried.push(...((await triedAt(video, [time], to)) ?? []));
  const isClose = ({ whole, reduced }: Tried) =>
    meanDifference(averageOf(video, whole, to), reduced) <= MOST_DIFFERENCE;
  return tried.length > 0 && tried.every(isClose);
}

/** Times at which decoding may begin, from all over the video; null: at its beginning. */
function placesOf({ source, keyFrames = new Uint32Array() }: Enterable): (number | null)[] {
  const halfway = keyFrames[keyFrames.length >> 1] ?? 0;
  const last = keyFrames.at(-1) ?? 0;
  const later = [...new Set([halfway, last])].filter((key) => key > 0 && Number.isFinite(source.stamps[key]));
  return [null, ...later.map((key) => source.stamps[key]!)];
}

/** One frame, as it is stored and as ffmpeg reduces it. */
interface Tried {
  whole: Uint8Array;
  reduced: Uint8Array;
}

/**
 * The first frames that come when decoding begins at some times: null where any of them does not come. All are put one below
 * the other into one picture, whole and reduced, so that they come out of one run.
 */
async function triedAt(
  { source, width, height }: Enterable,
  times: readonly (number | null)[],
  to: Size,
): Promise<Tried[] | null> {
  const inputs = times.flatMap((time) => [
    // One thread: others would decode frames that nobody wants.
    ...['-threads', '1', '-noautorotate'],
    ...(time === null ? [] : ['-seek_timestamp', '1', '-noaccurate_seek', '-ss', String(time)]),
    ...inputOf(source.file),
  ]);
  const stored = asStored(source, { width, height }).filters;
  const small = `${reducedTo(source, to).filters},pad=${width}:${to.height}`;
  const branches = times.map(
    (_, i) =>
      `[${i}:v:0]trim=end_frame=1,setpts=0,split[a${i}][b${i}];[a${i}]${stored}[w${i}];[b${i}]${small}[s${i}]`,
  );
  const stacked = `${times.map((_, i) => `[w${i}][s${i}]`).join('')}vstack=inputs=${2 * times.length}`;
  // Not told to be quiet, for so it says its version.
  const trying = await run('ffmpeg', [
    ...['-nostdin', '-nostats', ...inputs, '-filter_complex', `${branches.join(';')};${stacked}`],
    ...['-frames:v', '1', '-f', 'rawvideo', 'pipe:1'],
  ]);
  const pieces: Buffer[] = [];
  for await (const piece of trying.output as AsyncIterable<Buffer>) pieces.push(piece);
  heardVersion((await trying.ended).errors);
  const bytes = Buffer.concat(pieces);
  const rows = height + to.height;
  if (bytes.length !== times.length * rows * width) return null;
  return times.map((_, i) => {
    const at = i * rows * width;
    const padded = bytes.subarray(at + height * width, at + rows * width);
    return { whole: bytes.subarray(at, at + height * width), reduced: leftOf(padded, width, to) };
  });
}

/** The left columns of a picture, as many as another size has. */
function leftOf(picture: Uint8Array, width: number, to: Size): Uint8Array {
  const out = new Uint8Array(to.width * to.height);
  for (let y = 0; y < to.height; y++) {
    out.set(picture.subarray(y * width, y * width + to.width), y * to.width);
  }
  return out;
}

function meanDifference(a: Uint8Array, b: Uint8Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += Math.abs(a[i]! - b[i]!);
  return sum / a.length;
}
