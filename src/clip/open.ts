import { join } from 'node:path';
import { Problem } from '../base/problem.js';
import { LATEST } from '../base/time.js';
import { FASTEST } from '../camera/description.js';
import { luminance } from '../engine/luminance.js';
import { readJson } from '../files/read-json.js';
import { isThere } from '../files/regular.js';
import { type Labels, labelsSchema } from '../score/labels.js';
import { checkLabels } from '../score/labels-check.js';
import { contentKey } from './content.js';
import { decoder } from './decode.js';
import { checkFormat } from './formats.js';
import { gapWarning, rateOf } from './gaps.js';
import { type Manifest, manifestSchema } from './manifest.js';
import { openVideo } from './open-video.js';
import { inColour } from './outlet.js';
import { findStills, meansStills, refuseLinkOutside } from './pattern.js';
import type { OpenOptions, Recording } from './recording.js';
import { stillFrames } from './still-frames.js';
import { type StillsSource, stillFile, stillSize } from './stills.js';
import { stillTimes } from './times.js';
import { videoFrames } from './video.js';
import { videoLuminance } from './video-luminance.js';
import type { VideoSource } from './video-source.js';

export { keyFramePulse } from './video-warnings.js';
export type { Labels, Manifest, StillsSource, VideoSource };

/** A recording, ready to be read. */
export interface Clip extends Recording {
  /** As the user gave it. */
  dir: string;
  manifest: Manifest;
  /** Checked against the clip's length, visits cut to it; null when the clip has none. */
  labels: Labels | null;
  /** The clip's length. */
  seconds: number;
  /** Mean frames per second, gaps in the times left out. */
  rate: number;
}

/** One frame's stored pixels to be looked at, or their reduction by a whole number. */
export interface RawFrame {
  index: number;
  /** Rows from the top, channels interleaved: width * height * channels bytes. */
  pixels: Uint8Array;
  channels: 1 | 3;
  width: number;
  height: number;
}

export interface FramesOptions {
  /** The analysis size: stills may be reduced while they are decoded, but never below it. */
  minWidth: number;
  minHeight: number;
  /** Stills decoded at the same time. */
  inFlight?: number;
  signal?: AbortSignal;
}

/**
 * Reads what a clip is: manifest, times, labels and the content's key. Frames are read by `frames`.
 * @throws Problem for anything in the folder that is missing, broken or does not fit together
 */
export async function openClip(dir: string, options: OpenOptions): Promise<Clip> {
  const file = join(dir, 'clip.json');
  const manifest = await readJson(
    file,
    manifestSchema,
    "a clip's description (perchmark add RECORDING DIR makes one)",
  );
  const recording = meansStills(manifest.frames)
    ? await openStills(dir, manifest, options)
    : await openVideo(dir, manifest, options);
  const { times } = recording;
  const frames = times.length;
  const last = times[frames - 1]!;
  if (manifest.rate === undefined && frames < 2) {
    throw new Problem(
      'bad-times',
      `${file}: one frame with a time of its own has no length; ${options.giveRate ?? 'give a rate instead of times, such as "rate": 1'}`,
    );
  }
  const rate = manifest.rate ?? rateOf(times);
  const seconds = frames / (manifest.rate ?? (frames - 1) / last);
  refuseUnreal(rate, seconds, file);
  const warnings = [...recording.warnings];
  const found = await labelsOf(dir, seconds, options.labels);
  warnings.push(...found.warnings);
  const gaps = manifest.rate === undefined ? gapWarning(times, seconds, found.labels) : null;
  if (gaps !== null) warnings.push(`${dir}: ${gaps}`);
  return { dir, manifest, seconds, rate, labels: found.labels, ...recording, warnings };
}

/** Times that no recording has: all that follows from them would be noughts and infinities. */
function refuseUnreal(rate: number, seconds: number, file: string): void {
  if (rate > FASTEST * (1 + 1e-9)) {
    throw new Problem(
      'bad-times',
      `${file}: times: expected at most ${FASTEST} frames a second, found ${Number(rate.toPrecision(6))} by the mean; mend the times, or give a rate instead`,
    );
  }
  if (seconds > LATEST) {
    throw new Problem(
      'bad-times',
      `${file}: expected a clip of at most ${LATEST} seconds, found ${Number(seconds.toPrecision(6))} by its rate or times; mend them`,
    );
  }
}

async function labelsOf(
  dir: string,
  seconds: number,
  given: Labels | undefined,
): Promise<{ labels: Labels | null; warnings: string[] }> {
  const file = join(dir, 'labels.json');
  if (given) return checkLabels(given, seconds, 'labels');
  if (!(await isThere(file))) return { labels: null, warnings: [] };
  return checkLabels(await readJson(file, labelsSchema, 'labels of a clip'), seconds, file);
}

async function openStills(dir: string, manifest: Manifest, options: OpenOptions): Promise<Recording> {
  const file = join(dir, 'clip.json');
  const source: StillsSource = { kind: 'stills', ...(await findStills(dir, manifest.frames)) };
  const count = source.names.length;
  const key = await contentKey(count, (i) => stillFile(source, i), {
    ...options,
    inspect: checkFormat,
    checkLink: (link) => refuseLinkOutside(dir, link, file),
  });
  const { times, warnings } = await stillTimes(source, manifest, file, key, options);
  const { width, height } = await stillSize(source, 0, await decoder());
  return { source, width, height, times, contentKey: key, warnings };
}

/**
 * The frames asked for, in order; only a few are in memory at a time.
 * @param indices rising
 * @throws Problem 'bad-picture' or 'bad-video' when a frame cannot be read; the signal's reason when aborted
 */
export async function* frames(
  clip: Pick<Clip, 'source' | 'width' | 'height'>,
  indices: ArrayLike<number>,
  options: FramesOptions,
): AsyncGenerator<RawFrame> {
  if (indices.length === 0) return;
  const size = { width: clip.width, height: clip.height };
  if (clip.source.kind === 'stills') yield* stillFrames(clip.source, size, indices, options);
  else
    yield* videoFrames(clip.source, size, inColour(clip.source, size), indices, { signal: options.signal });
}

/**
 * The same frames as luminance at some size (a camera's analysis size, say): BT.601's of stills, the stored luma of video; the
 * same array every time.
 * @throws as `frames` does
 */
export async function* luminanceFrames(
  clip: Pick<Clip, 'source' | 'width' | 'height' | 'keyFrames'>,
  indices: ArrayLike<number>,
  { width, height }: { width: number; height: number },
  signal?: AbortSignal,
): AsyncGenerator<Uint8Array> {
  if (indices.length === 0) return;
  const { source, keyFrames } = clip;
  if (source.kind === 'video') {
    const video = { source, width: clip.width, height: clip.height, keyFrames };
    yield* videoLuminance(video, indices, { width, height }, signal);
    return;
  }
  const y = new Uint8Array(width * height);
  const reading = { minWidth: width, minHeight: height, ...(signal && { signal }) };
  for await (const frame of frames(clip, indices, reading)) {
    yield luminance(frame.pixels, frame.channels, frame.width, frame.height, width, height, y);
  }
}
