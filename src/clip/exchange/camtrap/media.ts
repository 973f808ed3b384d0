import { basename, extname, join, relative } from 'node:path';
import { Problem } from '../../../base/problem.js';
import { quoted } from '../../../base/text.js';
import { formatOfName } from '../../formats.js';
import type { Outgoing } from '../format.js';
import { momentOf, wholeSecond } from '../moment.js';
import { recordingId } from '../recording.js';
import type { MediaRow } from './tables.js';

/** By ending, as registered with IANA or in use. */
const VIDEO_TYPES: Readonly<Record<string, string>> = {
  '.mp4': 'video/mp4',
  '.m4v': 'video/mp4',
  '.mov': 'video/quicktime',
  '.mkv': 'video/matroska',
  '.webm': 'video/webm',
  '.avi': 'video/x-msvideo',
  '.mpg': 'video/mpeg',
  '.mpeg': 'video/mpeg',
  '.ts': 'video/mp2t',
  '.ogv': 'video/ogg',
  '.3gp': 'video/3gpp',
};

/** filePath as the published pattern has it: relative, without a way upwards (the pattern is from memory). */
const PATH = /^(?=^[^./~])(^((?!\.{2}).)*$).*$/s;

/** The medium of a place in the recording: each still is one, a video is one in all. */
export function mediumOf({ clip }: Pick<Outgoing, 'clip'>, index: number): string {
  return `${recordingId(clip.contentKey)}-m${clip.source.kind === 'video' ? 0 : index}`;
}

/** A row for each still, or one for the video. @throws Problem for a name that the standard has no place for */
export function* mediaRows(labels: Outgoing & { start: string }): Generator<MediaRow> {
  const { source, times } = labels.clip;
  const start = momentOf(labels.start, 'start');
  const names = source.kind === 'video' ? [basename(source.file)] : source.names;
  for (const [i, name] of names.entries()) {
    yield {
      mediaID: mediumOf(labels, i),
      deploymentID: recordingId(labels.clip.contentKey),
      // Frames come at their rate, whatever moves: nothing set them off.
      captureMethod: 'timeLapse',
      timestamp: wholeSecond(start, times[i] ?? 0, 'down'),
      filePath: pathOf(labels, name),
      filePublic: 'false',
      fileName: basename(name),
      fileMediatype: mediatypeOf(name),
    };
  }
}

function mediatypeOf(name: string): string {
  const still = formatOfName(name);
  if (still) return `image/${still.toLowerCase()}`;
  const ending = extname(name).toLowerCase();
  return VIDEO_TYPES[ending] ?? `video/x-${ending.slice(1).replace(/[^a-z0-9]/g, '') || 'unknown'}`;
}

function pathOf({ clip: { source, dir }, mediaFolder }: Outgoing, name: string): string {
  const file = source.kind === 'video' ? source.file : join(source.folder, name);
  const inClip = relative(dir, file);
  // The pictures of a drawn scene lie elsewhere, and go by their names.
  const within = inClip.startsWith('..') ? name : inClip;
  const path = `${mediaFolder}/${within.replaceAll('\\', '/')}`;
  if (PATH.test(path)) return path;
  throw new Problem(
    'bad-field',
    `${file}: expected a name that Camtrap DP can hold (filePath: no two dots in a row, and none, nor ~, in front), found ${quoted(path)}; rename the file or the clip's folder`,
  );
}
