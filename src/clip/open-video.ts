import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { Problem } from '../base/problem.js';
import { quoted, short } from '../base/text.js';
import { codeOf } from '../files/faults.js';
import { otherThanFile, unreadable } from '../files/regular.js';
import { fileContentKey } from './content.js';
import { pictureName } from './formats.js';
import type { Manifest } from './manifest.js';
import { MOST_LATE } from './packet-times.js';
import { refuseLinkOutside, refuseOutside } from './pattern.js';
import { probe } from './probe.js';
import type { OpenOptions, Recording } from './recording.js';
import { fromZero, GIVE_RATE, listedTimes, type Times, timesAtRate } from './times.js';
import { videoSource } from './video-source.js';
import { compressionWarning, damageWarning } from './video-warnings.js';

/** A clip whose frames are one video file. */
export async function openVideo(dir: string, manifest: Manifest, options: OpenOptions): Promise<Recording> {
  const file = join(dir, 'clip.json');
  refuseOutside(manifest.frames, file);
  if (manifest.times === 'exif' || manifest.times === 'names') {
    throw new Problem(
      'bad-times',
      `${file}: times: ${JSON.stringify(manifest.times)} is for stills, but frames is ${quoted(manifest.frames)}; leave times out to use the video's own, or give a rate; stills end in .jpg, .jpeg, .png, .bmp, .tif or .tiff`,
    );
  }
  const video = join(dir, manifest.frames);
  const info = await stat(video).catch(async (error) => {
    if (codeOf(error) !== 'ENOENT') throw await unreadable(video, error, 'a video file');
    throw new Problem(
      'file-missing',
      `${file}: frames: there is no file ${video}; expected a video file, or a pattern such as "frames/*.jpg"`,
    );
  });
  const other = otherThanFile(info);
  if (other !== null) {
    const pattern = info.isDirectory()
      ? `a pattern such as "${short(manifest.frames.replace(/\/$/, ''))}/*.jpg" or `
      : '';
    throw new Problem(
      info.isDirectory() ? 'file-missing' : 'file-unreadable',
      `${file}: frames: ${quoted(manifest.frames)} is ${other}; expected ${pattern}a video file`,
    );
  }
  await refuseLinkOutside(dir, video, file);
  if (info.size === 0) {
    throw new Problem('bad-video', `${video}: the file is empty; record or copy it again`);
  }
  const key = await fileContentKey(video, options);
  const found = await probe(video, key, options.cache, options.signal, (bytes) =>
    options.onProgress?.(bytes, info.size),
  );
  const warnings: string[] = [];
  if (found.doubt !== null) {
    warnings.push(
      `${video}: all of it was decoded to find when its frames are shown, because its container is not to be trusted (${found.doubt})`,
    );
  }
  const compressed = compressionWarning(found);
  if (compressed) warnings.push(`${video}: ${compressed}`);
  if (found.complaint) warnings.push(damageWarning(video, found.complaint));
  const { cache, onWarning: onDamage = () => undefined } = options;
  const timed = videoTimes(found.times, manifest, video, file, options.giveRate ?? GIVE_RATE);
  return {
    source: videoSource(video, found, found.promised ? { cache, contentKey: key, onDamage } : null),
    width: found.width,
    height: found.height,
    times: timed.times,
    contentKey: key,
    keyFrames: found.keyFrames,
    warnings: [...warnings, ...timed.warnings],
  };
}

function videoTimes(
  own: Float64Array,
  { rate, times }: Manifest,
  video: string,
  file: string,
  giveRate: string,
): Times {
  if (rate !== undefined) return { times: timesAtRate(own.length, rate), warnings: [] };
  if (Array.isArray(times)) return { times: listedTimes(times, own.length, file), warnings: [] };
  const without = own.findIndex((time) => Number.isNaN(time));
  const warnings: string[] = [];
  let whole = own;
  if (without >= 2 && own.length - without <= MOST_LATE && own.subarray(without).every(Number.isNaN)) {
    // AVI and MPEG hold none for these where frames are stored out of order: no later frame is there to tell it by.
    const [before, last] = [own[without - 2]!, own[without - 1]!];
    const step = last - before;
    whole = own.map((time, i) => (i < without ? time : last + (i - without + 1) * step));
    warnings.push(
      `${video}: it holds no presentation time for the last ${own.length - without} of its ${own.length} frames; they are taken to go on ${Number(step.toFixed(4))} s apart, as those before them do`,
    );
  } else if (without >= 0) {
    throw new Problem(
      'bad-times',
      `${pictureName(video, without)}: the video holds no presentation time for this frame; ${giveRate}`,
    );
  }
  return { times: fromZero(whole, (i) => pictureName(video, i), giveRate), warnings };
}
