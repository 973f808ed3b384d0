import { stat } from 'node:fs/promises';
import { z } from 'zod';
import { plural } from '../../base/figures.js';
import { parseJson } from '../../base/json.js';
import { Problem } from '../../base/problem.js';
import { quoted } from '../../base/text.js';
import { photosIn } from '../../clip/photo-folder.js';
import { csvRows } from '../../files/read-csv.js';
import { readText } from '../../files/read-json.js';
import { EXPECTED, type Stamp, stampOf } from './stamps.js';

/** The name of a photo beside its time. */
const PHOTO = /\.(?:jpe?g|png|tiff?|bmp|heic|raw|dng|mp4|avi|mov)$/i;
const LIST = 'fired times, a JSON array or CSV of one column';
const listSchema = z.array(z.union([z.number(), z.string()], { error: () => EXPECTED }));

export interface FiredPorts {
  onProgress?: (done: number, total: number) => void;
  onWarning: (line: string) => void;
  signal?: AbortSignal | undefined;
}

/** Whether fired times come from a folder of photos, not from a list. */
export async function isPhotoFolder(path: string): Promise<boolean> {
  return (await stat(path).catch(() => null))?.isDirectory() === true;
}

/**
 * When a camera fired: a JSON array or a one-column CSV of times, or a folder of its photos, by EXIF or else by their names.
 * @throws Problem for what is missing or is none of these
 */
export async function readFired(path: string, ports: FiredPorts): Promise<Stamp[]> {
  if (path.trim() === '') {
    throw new Problem('usage', `--fired: expected the name of a file with ${LIST}, or of a folder of photos`);
  }
  const stamps = (await isPhotoFolder(path))
    ? await stampsOfPhotos(path, ports)
    : stampsIn(await readText(path, LIST), path);
  if (stamps.length === 0) {
    throw new Problem('bad-times', `${path}: expected ${LIST}, found none; write down when the camera fired`);
  }
  return stamps;
}

function stampsIn(text: string, file: string): Stamp[] {
  const isJson = /\.json$/i.test(file) || /^\uFEFF?\s*[[{]/.test(text);
  if (isJson) return parseJson(text, file, listSchema, LIST).map((one, i) => stampOf(one, `${file}: [${i}]`));
  const rows = csvRows(
    text,
    { delimiter: [',', ';', '\t'] },
    (where) =>
      new Problem('bad-field', `${file}: ${where}expected ${LIST}, found a quotation mark out of place`),
  ).map(({ line, cells }) => ({ line, cells: cells.map((cell) => cell.trim()) }));
  const filled = rows.filter(({ cells }) => cells.some((cell) => cell !== ''));
  const [head, ...rest] = filled;
  if (!head) return [];
  const stamps = (isHeader(head.cells) ? rest : filled).map(({ line, cells }) => {
    const filled = cells.filter((cell) => cell !== '');
    const said = filled.filter((cell) => !PHOTO.test(cell));
    if (said.length > 1) {
      throw new Problem(
        'bad-field',
        `${file}: line ${line}: expected one column of fired times, and one of photos' names at most, found ${filled.length} columns; leave the others out`,
      );
    }
    return stampOf(said[0] ?? filled[0], `${file}: line ${line}`);
  });
  return stamps;
}

/** A first row that is a word names its column; NaN and what has a digit in it are mistyped times. */
function isHeader(cells: readonly string[]): boolean {
  const name = cells.find((cell) => cell !== '') ?? '';
  return /^\p{L}[^\d]*$/u.test(name) && !/^(nan|inf|infinity)$/i.test(name);
}

async function stampsOfPhotos(folder: string, ports: FiredPorts): Promise<Stamp[]> {
  const { photos, leftOut, wentBack } = await photosIn(folder, ports);
  for (const line of leftOut) ports.onWarning(line);
  if (wentBack) {
    ports.onWarning(
      `${folder}: the camera's clock went back ${plural(wentBack.times, 'time')}, first at ${quoted(wentBack.first)}; photos before and after do not fit one offset`,
    );
  }
  const timed = photos.filter(({ time }) => time !== null);
  if (timed.length < photos.length) {
    ports.onWarning(
      `${folder}: ${plural(photos.length - timed.length, 'photo')} without a time, by EXIF or by name, left out`,
    );
  }
  if (timed.length === 0) {
    throw new Problem(
      'bad-times',
      `${folder}: expected photos with times by EXIF (DateTimeOriginal) or in their names, found none with one; give the photos as the camera wrote them, or a list of times`,
    );
  }
  return timed.map(({ time, zone }) => ({ from: '1970', seconds: time! - 60 * (zone ?? 0), zone }));
}
