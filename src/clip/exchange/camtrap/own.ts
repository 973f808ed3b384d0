import { Problem } from '../../../base/problem.js';
import { quoted } from '../../../base/text.js';
import { causeNames, type Labels, type Stretch, type Visit } from '../../../score/labels.js';
import type { Observation } from './observation.js';
import { tagsIn, unspelled } from './tags.js';

/** What rows that this program wrote say: the labels they were, with whatever was changed in the columns since. */
export interface OwnTold {
  visits: Visit[];
  ignored: NonNullable<Labels['ignored']>;
  causes: NonNullable<Labels['causes']>;
  /** Visits whose name in the column is another than the one they were written with. */
  renamed: { was: string; is: string }[];
}

/** @throws Problem for a tag of ours that says what we never write */
export function ownLabels(rows: readonly Observation[], file: string): OwnTold {
  const boxes = new Map(
    rows.flatMap(({ kind, eventID, box }) => (kind === 'box' && box ? [[eventID, box]] : [])),
  );
  const told: OwnTold = { visits: [], ignored: [], causes: [], renamed: [] };
  for (const row of rows) {
    const { kind, start, end, type, count, eventID, tag, scientificName } = row;
    const { name, was } = nameOf(tag('name'), scientificName);
    const box = boxes.get(eventID) ?? boxIn(tag('box'));
    const why = tag('why');
    if (kind === 'visit') {
      if (name !== undefined && was !== undefined) told.renamed.push({ was, is: name });
      told.visits.push({
        start,
        end,
        type,
        ...(name !== undefined && { name }),
        ...(count !== undefined && { count }),
        ...(box && { box }),
      });
    } else if (kind === 'ignored') told.ignored.push({ start, end, ...(why !== undefined && { why }) });
    else if (kind === 'cause') told.causes.push({ start, end, cause: causeOf(tag('cause'), file) });
  }
  return told;
}

/** The standard's column goes first, for that is where others write; cells come without the blanks around them. */
function nameOf(
  tagged: string | undefined,
  scientificName: string | undefined,
): { name: string | undefined; was?: string } {
  if (tagged === undefined) return { name: scientificName };
  if (scientificName === undefined || scientificName === tagged.trim()) return { name: tagged };
  return { name: scientificName, was: tagged };
}

function boxIn(text: string | undefined): Visit['box'] {
  if (text === undefined) return undefined;
  const sides = text.split(' ').map(Number);
  const [x, y, width, height] = sides;
  const sound = sides.length === 4 && sides.every((side) => side >= 0 && side <= 1);
  return sound ? [x!, y!, width!, height!] : undefined;
}

function causeOf(word: string | undefined, file: string): (typeof causeNames)[number] {
  const cause = causeNames.find((one) => one === word);
  if (cause) return cause;
  throw new Problem(
    'bad-field',
    `${file}: observationTags: cause: expected one of ${causeNames.join(', ')}, found ${quoted(word ?? '')}; mend the tag or take the row out`,
  );
}

/**
 * What was looked through, as the tags of a deployment of ours have it.
 * @returns undefined: all of it; null: they do not say
 */
export function reviewedIn(cell: string): Stretch[] | undefined | null {
  const tags = tagsIn(cell);
  const text = tags.get('perchmark') === 'deployment' ? tags.get('reviewed') : undefined;
  if (text === undefined) return null;
  if (text === 'all') return undefined;
  const stretches = unspelled(text)
    .split(' ')
    .filter((part) => part !== '')
    .map((part) => part.split('..').map(Number));
  const sound = stretches.every(
    ([start, end, more]) =>
      start !== undefined && end !== undefined && more === undefined && start >= 0 && end >= start,
  );
  return sound ? stretches.map(([start, end]) => ({ start: start!, end: end! })) : null;
}
