import { hint, Problem } from '../../../base/problem.js';
import { quoted } from '../../../base/text.js';
import { type Visit, visitTypes } from '../../../score/labels.js';
import { type Moment, momentOf, secondsBetween } from '../moment.js';
import type { Kind } from './observations.js';
import type { TableRow } from './table.js';
import { tagsIn, unspelled } from './tags.js';

/** A row of observations, its times in seconds from the clip's start. */
export interface Observation {
  start: number;
  end: number;
  level: 'media' | 'event';
  type: Visit['type'];
  /** Null: an observation like any other. */
  setup: 'setup' | 'calibration' | null;
  eventID: string;
  mediaID: string;
  scientificName: string | undefined;
  count: number | undefined;
  box: Visit['box'];
  /** What this program wrote it for; null: another wrote it. */
  kind: Kind | null;
  /** The value of a tag of ours. */
  tag(key: string): string | undefined;
}

/** The most that labels can hold of one visit. */
const MOST_AT_ONCE = 1_000_000;
/** The most of x + width that passes for the frame's edge, for fractions that were rounded. */
const EDGE = 1.001;
const KINDS: readonly string[] = ['visit', 'box', 'ignored', 'cause'] satisfies Kind[];

/** @throws Problem naming file, line and column */
export function observationOf(row: TableRow, from: Moment): Observation {
  const tags = tagsIn(row.get('observationTags'));
  const kind = tags.get('perchmark') ?? '';
  const tag = (key: string) => {
    const value = tags.get(key);
    return value === undefined ? undefined : unspelled(value);
  };
  const own = KINDS.includes(kind);
  // Sums of fractions are off by what their binary forms are.
  const seconds = (column: string) =>
    Number(secondsBetween(from, momentOf(row.get(column), row.at(column))).toFixed(6));
  const start = seconds('eventStart');
  const end = seconds('eventEnd');
  if (end < start) {
    throw new Problem(
      'bad-times',
      `${row.at('eventEnd')}: expected a time that is not before eventStart, found ${quoted(row.get('eventEnd'))} after ${quoted(row.get('eventStart'))}; mend one of them`,
    );
  }
  const name = row.get('scientificName');
  const setup = row.get('cameraSetupType');
  return {
    ...(own && kind !== 'box' ? exact(start, end, tag) : { start, end: lasting(start, end) }),
    level: wordOf(row, 'observationLevel', ['media', 'event']),
    type: wordOf(row, 'observationType', visitTypes),
    setup: setup === '' ? null : wordOf(row, 'cameraSetupType', ['setup', 'calibration'] as const),
    eventID: row.get('eventID'),
    mediaID: row.get('mediaID'),
    scientificName: name === '' ? undefined : name,
    count: countOf(row),
    box: boxOf(row),
    kind: own ? (kind as Kind) : null,
    tag,
  };
}

/** Times are whole seconds: what begins and ends in the same one is taken to last as long as it. */
function lasting(start: number, end: number): number {
  return end === start ? end + 1 : end;
}

/** To the fraction, where the tags still say the same as the columns, which somebody may have changed since. */
function exact(
  start: number,
  end: number,
  tag: (key: string) => string | undefined,
): { start: number; end: number } {
  const [first, last] = [Number(tag('startSeconds') ?? Number.NaN), Number(tag('endSeconds') ?? Number.NaN)];
  const near = (a: number) => a > -1e-6 && a < 1;
  return {
    start: near(first - start) ? first : start,
    end: near(end - last) ? last : lasting(start, end),
  };
}

function wordOf<const W extends string>(row: TableRow, column: string, words: readonly W[]): W {
  const found = row.get(column);
  const word = words.find((one) => one === found);
  if (word !== undefined) return word;
  const what = found === '' ? 'nothing' : quoted(found);
  throw new Problem(
    'bad-field',
    `${row.at(column)}: expected one of ${words.join(', ')}, found ${what}${hint(found, words)}`,
  );
}

function countOf(row: TableRow): number | undefined {
  const found = row.get('count');
  // Some write a nought where nothing was seen.
  if (found === '' || found === '0') return undefined;
  const count = Number(found);
  if (/^\d+$/.test(found) && count <= MOST_AT_ONCE) return count;
  throw new Problem(
    'bad-field',
    `${row.at('count')}: expected a whole number from 1 to ${MOST_AT_ONCE} or an empty cell, found ${quoted(found)}; mend it`,
  );
}

const BOX = ['bboxX', 'bboxY', 'bboxWidth', 'bboxHeight'] as const;

function boxOf(row: TableRow): Visit['box'] {
  const cells = BOX.map((column) => row.get(column));
  if (cells.every((cell) => cell === '')) return undefined;
  const [x, y, width, height] = BOX.map((column) => {
    const cell = row.get(column);
    const value = Number(cell);
    if (/^[-+.\de]+$/i.test(cell) && value >= 0 && value <= 1) return value;
    throw new Problem(
      'bad-field',
      `${row.at(column)}: expected a fraction of the picture from 0 to 1, found ${cell === '' ? 'nothing beside its fellows' : quoted(cell)}; mend it, or empty all four`,
    );
  }) as [number, number, number, number];
  for (const [column, sum] of [
    ['bboxWidth', x + width],
    ['bboxHeight', y + height],
  ] as const) {
    if (sum <= EDGE) continue;
    throw new Problem(
      'bad-field',
      `${row.at(column)}: expected a box within the picture, found one that reaches ${Number(sum.toPrecision(6))}; mend it`,
    );
  }
  return [x, y, width, height];
}
