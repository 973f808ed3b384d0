import { basename } from 'node:path';
import { z } from 'zod';
import { inClipJson } from '../base/about-clip.js';
import { inputOf } from './containers.js';
import { exifMoment } from './exif.js';
import { run, textOf } from './ffmpeg.js';
import { unixStamp } from './stamps.js';

/** When a recording began, RFC 3339, and what says so, in words. */
export interface Start {
  start: string;
  says: string;
}

/** Earlier than any recording that is meant: what a clock without a battery begins at (1904, 1970, 2000). */
const EARLIEST = Date.UTC(2001, 0, 1);

const taggedSchema = z.object({
  format: z.object({ tags: z.object({ creation_time: z.iso.datetime() }) }),
});

/**
 * When a video was begun, by its creation time, which is in UTC by what MP4, QuickTime (ISO/IEC 14496-12, mvhd) and Matroska
 * (RFC 9559, DateUTC) say of it; null where it holds none, or ffprobe cannot read it.
 * @throws Problem 'needs-ffmpeg'
 */
export async function startOfVideo(file: string): Promise<Start | null> {
  const asked = ['-v', 'error', '-of', 'json', '-show_entries', 'format_tags=creation_time'];
  const { text, code } = await textOf(await run('ffprobe', [...asked, ...inputOf(file)]));
  const tagged = code === 0 ? taggedSchema.safeParse(JSON.parse(text)).data : undefined;
  if (!tagged) return null;
  return plausible(Date.parse(tagged.format.tags.creation_time), 'creation_time, in UTC by its standard');
}

/**
 * When a still was taken, where it holds its zone: EXIF's OffsetTimeOriginal, or Unix time in its name. A clock of an unknown
 * zone says nothing, and none is guessed.
 * @param byName whether names are known to hold times: else a long number in one may be a count
 */
export async function startOfStill(file: string, byName: boolean): Promise<Start | null> {
  if (byName) {
    const unix = unixStamp(basename(file));
    return unix && plausible((unix.seconds + (unix.fraction ?? 0)) * 1000, 'first name, in Unix time');
  }
  const { stamp: exif, zone } = await exifMoment(file);
  if (!exif || zone === null) return null;
  const local = new Date((exif.seconds + (exif.fraction ?? 0)) * 1000).toISOString().slice(0, -1);
  const found = plausible(Date.parse(`${local}${zone}`), 'EXIF with its zone');
  return found && { ...found, start: `${local.replace(/\.000$/, '')}${zone}` };
}

function plausible(moment: number, says: string): Start | null {
  if (!(moment >= EARLIEST)) return null;
  return { start: new Date(moment).toISOString().replace('.000', ''), says };
}

/** What the owner should know of a new clip's start: where it is from, or that there is none and what it is for. */
export function aboutStart(dir: string, found: Start | null): string {
  if (found) {
    return `${dir}: its start is ${found.start}, by its ${found.says}; mend it ${inClipJson('start')}, if the camera's clock or its zone was wrong, or recording began at another time`;
  }
  return `${dir}: when it began is not known with its time zone, so that nothing tells until when it is too dark there; say it and where, ${inClipJson('"start": "2026-05-04T06:10:00+01:00", and "place"')}`;
}
