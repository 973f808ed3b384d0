import { createHash } from 'node:crypto';
import { resolve } from 'node:path';
import { parseJson } from '../base/json.js';
import type { Clip } from '../clip/open.js';
import { replaceOwn } from '../files/output.js';
import { isThere, readRegular } from '../files/regular.js';
import { type Labels, labelsSchema, type Stretch } from '../score/labels.js';
import { checkLabels } from '../score/labels-check.js';
import type { LabelsState } from './protocol.js';

/** 256 MB of labels is more than any clip has. */
const MOST_BYTES = 256 * 2 ** 20;

interface Place {
  path: string;
  labelsFile: string;
}

/**
 * Labels as they are on disk now.
 * @param clip to hold them against; null: not held against any
 * @throws Problem for whatever is wrong with them
 */
export async function labelsOnDisk(
  place: Place,
  clip: Pick<Clip, 'seconds' | 'labels'> | null,
): Promise<LabelsState> {
  const { whole: _, schema: __, ...state } = await read(place, clip);
  return state;
}

/** What is on disk, before it is cut at the clip's end, and the schema that it names for editors. */
interface OnDisk extends LabelsState {
  whole: Labels | null;
  schema: string | null;
}

async function read({ labelsFile }: Place, clip: Pick<Clip, 'seconds' | 'labels'> | null): Promise<OnDisk> {
  const file = digest(resolve(labelsFile));
  if (!(await isThere(labelsFile))) {
    return { labels: clip?.labels ?? null, revision: '', file, whole: null, schema: null };
  }
  const bytes = await readRegular(labelsFile, 'labels of a clip', MOST_BYTES);
  const text = bytes.toString('utf8');
  const whole = parseJson(text, labelsFile, labelsSchema, 'labels of a clip');
  const labels = clip ? checkLabels(whole, clip.seconds, labelsFile).labels : whole;
  const { $schema = null } = JSON.parse(text.replace(/^\uFEFF/, '')) as { $schema?: string };
  return { labels, revision: digest(bytes), file, whole, schema: $schema };
}

function digest(content: Buffer | string): string {
  return createHash('sha256').update(content).digest('hex');
}

/** Writes are made one after the other, so that none is held against what another is just replacing. */
let writing: Promise<unknown> = Promise.resolve();

/**
 * Writes labels unless those on disk are not what `base` names any more.
 * @returns what is on disk then, and whether that is what was given
 * @throws Problem for labels that do not fit the clip, or a file that cannot be written
 */
export function writeLabels(
  place: Place,
  clip: Pick<Clip, 'seconds' | 'labels'>,
  given: unknown,
  base: string,
): Promise<LabelsState & { written: boolean }> {
  const write = async () => {
    const labels = parseJson(JSON.stringify(given) ?? '', 'labels', labelsSchema, 'labels of a clip');
    checkLabels(labels, clip.seconds, 'labels');
    const { whole, schema, ...there } = await read(place, clip);
    if (there.revision !== base) return { ...there, written: false };
    const kept = whole && there.labels ? withWhatWasCut(labels, there.labels, whole) : labels;
    const text = `${JSON.stringify({ ...(schema !== null && { $schema: schema }), ...kept }, null, 2)}\n`;
    await replaceOwn(place.labelsFile, text);
    return { ...(await labelsOnDisk(place, clip)), written: true };
  };
  const result = writing.then(write, write);
  writing = result.catch(() => undefined);
  return result;
}

const LISTS = ['reviewed', 'visits', 'ignored', 'causes'] as const;

/**
 * The page is given stretches cut at the clip's end; those that it gives back as they were are written as they stood in
 * the file, and those after the end, which it never saw, stay.
 */
function withWhatWasCut(given: Labels, cut: Labels, whole: Labels): Labels {
  const kept: Record<string, unknown> = { ...given };
  for (const field of LISTS) {
    const before = whole[field];
    if (!before) continue;
    const shown = (cut[field] ?? []).map(written);
    // Cutting leaves out what starts after the end, and keeps the order of the rest.
    const seen = before.filter((one) => shown.includes(written(one)) || isCut(one, cut[field] ?? []));
    const originals = new Map(seen.map((one, i) => [shown[i], one]));
    const unseen = before.filter((one) => !seen.includes(one));
    const now = (given[field] ?? []).map((one) => originals.get(written(one)) ?? one);
    if (given[field] || unseen.length > 0) kept[field] = [...now, ...unseen];
  }
  return kept as Labels;
}

function isCut(one: Stretch, cut: readonly Stretch[]): boolean {
  return cut.some(({ start, end }) => start === one.start && end < one.end);
}

/** In whatever order its fields are. */
function written(entry: object): string {
  return JSON.stringify(Object.entries(entry).sort(([a], [b]) => (a < b ? -1 : 1)));
}
