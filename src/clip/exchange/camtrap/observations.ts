import { nearestPlace } from '../../../base/nearest.js';
import { plainName } from '../../../outing/evening/marks-file.js';
import type { Labels, Stretch, Visit } from '../../../score/labels.js';
import type { Outgoing } from '../format.js';
import { type Moment, momentOf, wholeSecond } from '../moment.js';
import { recordingId } from '../recording.js';
import { mediumOf } from './media.js';
import type { ObservationRow } from './tables.js';
import { tagsText } from './tags.js';

/** What a row of ours stands for: the value of the tag `perchmark`. */
export type Kind = 'visit' | 'box' | 'ignored' | 'cause';

/** How somebody who sets a camera up says so in "ignored", and what Camtrap DP calls it. */
export const SETUPS: ReadonlyMap<string | undefined, 'setup' | 'calibration'> = new Map([
  ['setting up', 'setup'],
  ['calibration', 'calibration'],
]);

type Cause = NonNullable<Labels['causes']>[number]['cause'];
/** An insect is an animal, and of the unknown nobody can say that it was none: the rest is blank. */
const NOT_BLANK: readonly Cause[] = ['insect', 'unknown'];

/**
 * An event for each visit, each ignored stretch and each cause, in the order of the labels; beside a visit whose place is known
 * the same at the level of media, of the still in its middle, for a box is measured on one medium.
 */
export function* observationRows(labels: Outgoing & { start: string }): Generator<ObservationRow> {
  const { visits, ignored = [], causes = [] } = labels.labels;
  const row = eventRows(labels, momentOf(labels.start, 'start'));
  for (const [i, visit] of visits.entries()) yield* visitRows(labels, visit, i, row);
  for (const [i, { start, end, why }] of ignored.entries()) {
    const setup = SETUPS.get(why);
    const told = why === undefined ? '' : `: ${why}`;
    yield {
      ...row(`i${i}`, { start, end }, 'ignored', why === undefined ? [] : [['why', why]]),
      observationType: 'unclassified',
      ...(setup && { cameraSetupType: setup }),
      observationComments: plainName(`not counted${told}`),
    };
  }
  for (const [i, { start, end, cause }] of causes.entries()) {
    yield {
      ...row(`c${i}`, { start, end }, 'cause', [['cause', cause]]),
      observationType: NOT_BLANK.includes(cause) ? 'unclassified' : 'blank',
      ...(!NOT_BLANK.includes(cause) && byPerson(labels)),
      observationComments: `what moved: ${cause}`,
    };
  }
}

type Tag = readonly [key: string, value: string | number];

function eventRows({ clip }: Outgoing, from: Moment) {
  const deployment = recordingId(clip.contentKey);
  return (id: string, { start, end }: Stretch, kind: Kind, tags: readonly Tag[]): ObservationRow => ({
    observationID: `${deployment}-${id}`,
    deploymentID: deployment,
    eventID: `${deployment}-${id}`,
    eventStart: wholeSecond(from, start, 'down'),
    eventEnd: wholeSecond(from, end, 'up'),
    observationLevel: 'event',
    observationTags: tagsText([['perchmark', kind], ['startSeconds', start], ['endSeconds', end], ...tags]),
  });
}

function* visitRows(
  labels: Outgoing,
  visit: Visit,
  i: number,
  row: ReturnType<typeof eventRows>,
): Generator<ObservationRow> {
  const { type, name, count, box } = visit;
  const medium = box && isHeld(box) ? mediumFor(labels, visit) : null;
  const scientificName = scientificNameOf(labels, visit);
  const tags: Tag[] = [
    ...(name === undefined ? [] : ([['name', name]] as const)),
    ...(box && medium === null ? ([['box', box.join(' ')]] as const) : []),
  ];
  const event: ObservationRow = {
    ...row(`v${i}`, visit, 'visit', tags),
    observationType: type,
    ...(scientificName !== null && { scientificName }),
    ...(count !== undefined && { count: String(count) }),
    ...(type !== 'unclassified' && byPerson(labels)),
    ...(name !== undefined && { observationComments: plainName(`labelled as ${name}`) }),
  };
  yield event;
  if (!box || medium === null) return;
  const [x, y, width, height] = box.map(String) as [string, string, string, string];
  const { observationComments: _said, ...same } = event;
  yield {
    ...same,
    observationID: `${event.observationID}-box`,
    mediaID: medium,
    observationLevel: 'media',
    observationTags: tagsText([['perchmark', 'box']]),
    bboxX: x,
    bboxY: y,
    bboxWidth: width,
    bboxHeight: height,
  };
}

function byPerson({ contributor }: Outgoing): ObservationRow {
  return { classificationMethod: 'human', ...(contributor !== null && { classifiedBy: contributor }) };
}

/** A visit's name where it is a scientific one, else null. */
export function scientificNameOf({ scientificNames }: Outgoing, { type, name = '' }: Visit): string | null {
  return scientificNames && type === 'animal' && name.trim() !== '' ? name : null;
}

/** The least bboxWidth and bboxHeight (from memory). */
const LEAST_EXTENT = 1e-15;

/** A box without an extent, or one that reaches past the edge by a rounding, is none there. */
export function isHeld([x, y, width, height]: NonNullable<Visit['box']>): boolean {
  return Math.min(width, height) >= LEAST_EXTENT && x + width <= 1 && y + height <= 1;
}

/** The medium that shows the middle of a stretch: the nearest still within it, or the video; null where there is none. */
export function mediumFor(labels: Outgoing, { start, end }: Stretch): string | null {
  const { times, source } = labels.clip;
  if (source.kind === 'video') return mediumOf(labels, 0);
  const nearest = nearestPlace(times, (start + end) / 2);
  const time = times[nearest];
  return time !== undefined && time >= start && time <= end ? mediumOf(labels, nearest) : null;
}
