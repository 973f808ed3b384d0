import { createHash } from 'node:crypto';
import { parseJson } from '../base/json.js';
import type { Clip } from '../clip/open.js';
import { replaceOwn } from '../files/output.js';
import { isThere, readRegular } from '../files/regular.js';
import { labelsSchema } from '../score/labels.js';
import { checkLabels } from '../score/labels-check.js';
import type { LabelsState } from './protocol.js';

/** 256 MB of labels is more than any clip has. */
const MOST_BYTES = 256 * 2 ** 20;

/**
 * Labels as they are on disk now.
 * @param clip to hold them against; null: not held against any
 * @throws Problem for whatever is wrong with them
 */
export async function labelsOnDisk(
  { labelsFile }: { path: string; labelsFile: string },
  clip: Pick<Clip, 'seconds' | 'labels'> | null,
): Promise<LabelsState> {
  if (!(await isThere(labelsFile))) return { labels: clip?.labels ?? null, revision: '' };
  const bytes = await readRegular(labelsFile, 'labels of a clip', MOST_BYTES);
  const labels = parseJson(bytes.toString('utf8'), labelsFile, labelsSchema, 'labels of a clip');
  const checked = clip ? checkLabels(labels, clip.seconds, labelsFile).labels : labels;
  return { labels: checked, revision: createHash('sha256').update(bytes).digest('hex') };
}

/** Writes are made one after the other, so that none is held against what another is just replacing. */
let writing: Promise<unknown> = Promise.resolve();

/**
 * Writes labels unless those on disk are not what `base` names any more.
 * @returns what is on disk then, and whether that is what was given
 * @throws Problem for labels that do not fit the clip, or a file that cannot be written
 */
export function writeLabels(
  place: { path: string; labelsFile: string },
  clip: Pick<Clip, 'seconds' | 'labels'>,
  given: unknown,
  base: string,
): Promise<LabelsState & { written: boolean }> {
  const write = async () => {
    const text = `${JSON.stringify(given, null, 2)}\n`;
    const labels = parseJson(text, 'labels', labelsSchema, 'labels of a clip');
    checkLabels(labels, clip.seconds, 'labels');
    const there = await labelsOnDisk(place, clip);
    if (there.revision !== base) return { ...there, written: false };
    await replaceOwn(place.labelsFile, text);
    return { ...(await labelsOnDisk(place, clip)), written: true };
  };
  const result = writing.then(write, write);
  writing = result.catch(() => undefined);
  return result;
}
