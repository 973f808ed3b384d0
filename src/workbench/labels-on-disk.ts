import { createHash } from 'node:crypto';
import { resolve } from 'node:path';
import { parseJson } from '../base/json.js';
import type { Clip } from '../clip/open.js';
import { exchange } from '../files/exchange.js';
import { readText } from '../files/read-json.js';
import { isThere } from '../files/regular.js';
import { type Labels, labelsSchema, type Stretch } from '../score/labels.js';
import { checkLabels } from '../score/labels-check.js';
import type { LabelsState } from './protocol.js';

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
  if (!(await isThere(labelsFile))) {
    const file = digest(resolve(labelsFile));
    return { labels: clip?.labels ?? null, revision: '', file, whole: null, schema: null };
  }
  return onDisk(await readText(labelsFile, 'labels of a clip'), labelsFile, clip);
}

/** A file of this text. */
function onDisk(text: string, labelsFile: string, clip: Pick<Clip, 'seconds'> | null): OnDisk {
  const whole = parseJson(text, labelsFile, labelsSchema, 'labels of a clip');
  const labels = clip ? checkLabels(whole, clip.seconds, labelsFile).labels : whole;
  const { $schema = null } = JSON.parse(text.replace(/^\uFEFF/, '')) as { $schema?: string };
  return { labels, revision: digest(text), file: digest(resolve(labelsFile)), whole, schema: $schema };
}

function digest(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}

/**
 * Writes labels unless those on disk are not what `base` names any more, whoever else writes them at the same time.
 * @returns what is on disk then, and whether that is what was given
 * @throws Problem for labels that do not fit the clip, or a file that cannot be written
 */
export async function writeLabels(
  place: Place,
  clip: Pick<Clip, 'seconds' | 'labels'>,
  labels: Labels,
  base: string,
): Promise<LabelsState & { written: boolean }> {
  checkLabels(labels, clip.seconds, 'labels');
  let state: OnDisk | undefined;
  const written = await exchange(place.labelsFile, async () => {
    state = await read(place, clip);
    if (state.revision !== base) return null;
    const { whole, schema } = state;
    const kept = whole && state.labels ? withWhatWasCut(labels, state.labels, whole) : labels;
    const text = `${JSON.stringify({ ...(schema !== null && { $schema: schema }), ...kept }, null, 2)}\n`;
    // Not read again afterwards: somebody else may have written there since, and that is not what was saved here.
    state = onDisk(text, place.labelsFile, clip);
    return text;
  });
  const { whole: _, schema: __, ...told } = state!;
  return { ...told, written };
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
