import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { plural } from '../base/figures.js';
import { parseJson } from '../base/json.js';
import { Problem } from '../base/problem.js';
import type { NotHeld } from '../clip/exchange/format.js';
import { type FormatName, formatNamed } from '../clip/exchange/formats.js';
import {
  areBlank,
  countsText,
  type LabelCounts,
  labelCounts,
  merged,
  overlapping,
} from '../clip/exchange/merge.js';
import { openClip } from '../clip/open.js';
import { exchange } from '../files/exchange.js';
import { freeBeside, replaceOwn } from '../files/output.js';
import { readJson, readText } from '../files/read-json.js';
import { isThere, readRegular } from '../files/regular.js';
import { type Labels, labelsSchema } from '../score/labels.js';
import { checkLabels } from '../score/labels-check.js';
import { openPorts, type Ports } from './ports.js';

export interface LabelsImportInput {
  file: string;
  /** A clip folder; its labels.json is written. */
  clip: string;
  format: FormatName;
  /** When the recording began, RFC 3339; left out: what clip.json says. */
  start?: string | undefined;
  deployment?: string | undefined;
  /** Seconds: pictures of no event are one visit where no more lie between them; left out: 10. */
  gap?: number | undefined;
  /** All of the clip was looked through, whatever the file says. */
  allReviewed?: boolean;
  /** What becomes of labels that are there already; left out: they are left, and nothing is read into them. */
  there?: 'replace' | 'merge' | undefined;
}

export interface LabelsImportResult {
  clip: string;
  file: string;
  format: FormatName;
  /** Of Camtrap DP, whose rows were read; null: the format knows none. */
  deployment: string | null;
  /** What stands in labels.json now. */
  labels: LabelCounts;
  /** What stood there before; null: no file. */
  before: LabelCounts | null;
  /** Where the labels that stood there are kept as they were; null: there were none, or all of them are in the new ones. */
  keptAs: string | null;
  /** Stretches outside the clip, which were left out. */
  outside: number;
  /** Stretches of which a part lies outside, which was cut off. */
  cut: number;
  notHeld: NotHeld[];
  notes: string[];
}

/** Seconds. */
const GAP = 10;

/**
 * Reads labels from a file of an open format into a clip's labels.json. Labels that are there already are never lost: without a
 * word of what is to become of them they stay, and those that are replaced are kept beside.
 * @throws Problem
 */
export async function importLabels(
  { file, clip: dir, format, there, ...said }: LabelsImportInput,
  ports: Ports = {},
): Promise<LabelsImportResult> {
  const open = await openPorts(ports);
  await mustBeFolder(dir);
  const labelsFile = join(dir, 'labels.json');
  // Before anything is read, which may take long; a file that is not there is told of first, by what reads it.
  if (await isThere(file)) refuseToLose(labelsFile, await countsIn(labelsFile, there), there);
  open.onPhase(`${dir}: looking through the files`);
  // Its own labels may be broken, and are to be replaced.
  const clip = await openClip(dir, { ...open, labels: { version: 1, visits: [] } });
  for (const warning of clip.warnings) open.onWarning(warning);
  open.onPhase(`${file}: reading`);
  const { read } = await formatNamed(format);
  const { labels, ...told } = await read(file, {
    clip,
    start: said.start ?? clip.manifest.start ?? null,
    deployment: said.deployment ?? null,
    gap: said.gap ?? GAP,
    allReviewed: said.allReviewed === true,
    signal: ports.signal,
    onProgress: open.onProgress,
  });
  const checked = checkLabels(labels, clip.seconds, file).labels;
  const { notes, ...written } = await write(labelsFile, checked, clip.seconds, {
    there,
    allReviewed: said.allReviewed === true,
  });
  return { clip: dir, file, format, ...told, ...written, notes: [...told.notes, ...notes] };
}

type Written = Pick<LabelsImportResult, 'labels' | 'before' | 'keptAs' | 'notes'>;

async function write(
  file: string,
  read: Labels,
  seconds: number,
  { there, allReviewed }: { there: LabelsImportInput['there']; allReviewed: boolean },
): Promise<Written> {
  let result: Written | null = null;
  await exchange(file, async () => {
    // Once more, for somebody may have labelled meanwhile.
    const before = await countsIn(file, there);
    refuseToLose(file, before, there);
    const merges = there === 'merge' && before !== null;
    const { labels, notes } = merges
      ? await mergedWith(file, read, seconds, allReviewed)
      : { labels: read, notes: [] };
    const keptAs = before !== null && there === 'replace' ? await keptBeside(file) : null;
    result = { labels: labelCounts(labels), before, keptAs, notes };
    return `${JSON.stringify(labels, null, 2)}\n`;
  });
  return result!;
}

/** What stands in a file with what was read put to it; what is for editors stays. */
async function mergedWith(
  file: string,
  read: Labels,
  seconds: number,
  allReviewed: boolean,
): Promise<{ labels: Labels; notes: string[] }> {
  const text = await readText(file, 'labels of a clip');
  const old = checkLabels(parseJson(text, file, labelsSchema, 'labels of a clip'), seconds, file).labels;
  const { $schema } = JSON.parse(text.replace(/^\uFEFF/, '')) as { $schema?: string };
  const now = merged(old, read, allReviewed);
  return {
    labels: { ...($schema !== undefined && { $schema }), ...checkLabels(now, seconds, file).labels },
    notes: mergeNotes(old, read, now),
  };
}

function mergeNotes(old: Labels, read: Labels, now: Labels): string[] {
  const twice = overlapping(old, now);
  return [
    ...(twice === 0
      ? []
      : [
          `${plural(twice, 'visit')} that ${twice === 1 ? 'was' : 'were'} read ${twice === 1 ? 'overlaps' : 'overlap'} one of the same type that was there: where both are of one animal it counts twice; take one out of labels.json`,
        ]),
    ...(now.reviewed && !read.reviewed
      ? [
          'what was looked through stays what labels.json said, with the visits that were read; where it was all of the clip, add --all-reviewed',
        ]
      : []),
  ];
}

/** How much the labels that are there say; null where there are none, or they say nothing yet. */
async function countsIn(file: string, there: LabelsImportInput['there']): Promise<LabelCounts | null> {
  if (!(await isThere(file))) return null;
  try {
    const labels = await readJson(file, labelsSchema, 'labels of a clip');
    return areBlank(labels) ? null : labelCounts(labels);
  } catch (error) {
    // A file that is broken may be replaced, for it is kept; nothing can be put to it, nor to a folder.
    if (!(error instanceof Problem) || error.code === 'file-unreadable' || there === 'merge') throw error;
    if (there === 'replace') return labelCounts({ version: 1, visits: [] });
    throw new Problem(
      error.code,
      `${error.message}; or add --force to replace the file, which is kept beside`,
    );
  }
}

function refuseToLose(file: string, before: LabelCounts | null, there: LabelsImportInput['there']): void {
  if (before === null || there !== undefined) return;
  throw new Problem(
    'file-unwritable',
    `${file}: there are labels already (${countsText(before)}), which stay as they are; add --merge to put what is read to them, or --force to replace them (they are kept beside)`,
  );
}

/** Keeps a copy of a file under a name that nothing has yet. */
async function keptBeside(file: string): Promise<string> {
  const beside = await freeBeside(file);
  await replaceOwn(beside, await readRegular(file, 'labels of a clip'));
  return beside;
}

async function mustBeFolder(dir: string): Promise<void> {
  if (dir.trim() === '') throw new Problem('usage', 'expected the name of a clip, found an empty one');
  if ((await stat(dir).catch(() => null))?.isFile() !== true) return;
  throw new Problem(
    'usage',
    `${dir}: expected the folder of a clip to write labels.json into, found a file; a drawn scene has its own labels`,
  );
}
