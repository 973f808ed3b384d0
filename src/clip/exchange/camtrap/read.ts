import { clock, plural } from '../../../base/figures.js';
import { Problem } from '../../../base/problem.js';
import { quoted } from '../../../base/text.js';
import { LATEST } from '../../../base/time.js';
import { rfc3339 } from '../../../plan/instant.js';
import type { Labels, Stretch } from '../../../score/labels.js';
import type { Incoming, NotHeld, Wanted } from '../format.js';
import { type Moment, momentOf } from '../moment.js';
import { joined, Within } from '../within.js';
import { type Deployment, deploymentFor, deploymentsOf } from './deployments.js';
import { eventsOf } from './events.js';
import { type Observation, observationOf } from './observation.js';
import { type OwnTold, ownLabels, reviewedIn } from './own.js';
import { openPackage, type Package } from './package.js';
import { type TableRow, tableRows } from './table.js';
import { neededColumns } from './tables.js';

/** Columns that labels have no place for; of rows of ours the last are our own words. */
const LEFT_ALONE = [
  'lifeStage',
  'sex',
  'behavior',
  'individualID',
  'individualPositionRadius',
  'individualPositionAngle',
  'individualSpeed',
] as const;
const LEFT_ALONE_OF_OTHERS = ['classificationProbability', 'observationTags', 'observationComments'] as const;

/** The observations of one deployment of a package, as the labels of a clip. */
export async function readCamtrap(path: string, wanted: Wanted): Promise<Incoming> {
  const { clip, gap } = wanted;
  const from = startOf(wanted);
  const found = await openPackage(path);
  const { file } = found.observations;
  const deployments = await deploymentsOf(found, wanted.signal);
  const deployment = deploymentFor(deployments, found.deployments?.file ?? file, wanted, from);
  const { rows, all, stray, strays, tells, left, within } = await rowsOf(
    found,
    deployments,
    deployment,
    from,
    wanted,
  );
  if (within.outside > 0 && !tells) throw elsewhere(path, deployment, from, wanted, within);
  const own = ownLabels(
    rows.filter(({ kind }) => kind !== null),
    file,
  );
  const others = rows.filter(({ kind }) => kind === null);
  const told = eventsOf(others, gap);
  const known = wanted.allReviewed ? undefined : reviewedIn(deployment.tags);
  if (all === 0 && known === null) {
    throw new Problem(
      'bad-field',
      `${file}: expected observations of the deployment ${quoted(deployment.id)}, found none; where all of the clip was looked through and nothing was there, add --all-reviewed`,
    );
  }
  if (all === 0 && stray !== undefined && !wanted.allReviewed) {
    throw new Problem(
      'bad-field',
      `${stray}, which is in no row of the table of deployments, where there is ${quoted(deployment.id)}, of which no observation is; mend one of the two`,
    );
  }
  const reviewed =
    known === undefined ? undefined : reviewedOf(known, [...own.visits, ...own.causes], told.lookedAt, gap);
  const labels: Labels = {
    version: 1,
    ...(reviewed && { reviewed: cutTo(reviewed, clip.seconds) }),
    visits: [...own.visits, ...told.visits],
    ...orNone('ignored', [...own.ignored, ...told.ignored]),
    ...found.own,
    ...orNone('causes', own.causes),
  };
  return {
    labels,
    deployment: deployment.id,
    outside: within.outside,
    cut: within.cut,
    notHeld: notHeldOf(left, told.looseBoxes),
    notes: [
      ...(all === 0
        ? [
            `no row is of the deployment ${quoted(deployment.id)}, which is taken to mean that nothing was there`,
          ]
        : []),
      ...strayNote(stray, strays),
      ...renamedNote(own.renamed),
      ...(known === null
        ? [
            'what was looked through is taken to be the time of which a row says what was in it; where it was all of the clip, add --all-reviewed',
          ]
        : []),
      ...(deployment.timestampIssues
        ? ['the package says that its times have issues (timestampIssues)']
        : []),
    ],
  };
}

function startOf({ clip, start }: Wanted): Moment {
  if (start !== null) return momentOf(start, `${clip.dir}: start`);
  throw new Problem(
    'usage',
    `${clip.dir}: expected when the recording began, for Camtrap DP gives times of day, found nothing; write "start" into clip.json, or add --start 2026-05-04T06:10:00+01:00`,
  );
}

/** The rows of a deployment that lie in the clip. */
interface Rows {
  rows: Observation[];
  /** Of the deployment, wherever they lie. */
  all: number;
  /** Where the first row is of a deployment that is not listed. */
  stray: string | undefined;
  /** How many there are. */
  strays: number;
  /** Whether one in the clip says of it what was there, or that nothing was. */
  tells: boolean;
  /** Columns that labels have no place for, and in how many rows. */
  left: Map<string, number>;
  within: Within;
}

async function rowsOf(
  { observations: { file, delimiter } }: Package,
  deployments: ReadonlyMap<string, Deployment>,
  { id }: Deployment,
  from: Moment,
  { clip, signal, onProgress }: Wanted,
): Promise<Rows> {
  const within = new Within(clip.seconds);
  const rows: Observation[] = [];
  const left = new Map<string, number>();
  const seen = new Set<string>();
  let all = 0;
  let stray: string | undefined;
  let strays = 0;
  const visits = { in: 0, out: 0 };
  let nothing = false;
  for await (const row of tableRows(file, 'observations', neededColumns.observations, {
    delimiter,
    signal,
    onProgress,
  })) {
    const of = row.get('deploymentID');
    if (!deployments.has(of)) {
      stray ??= `${row.at('deploymentID')}: found ${quoted(of)}`;
      strays++;
    }
    if (of !== id) continue;
    all++;
    const observationID = row.get('observationID');
    if (seen.has(observationID)) {
      throw new Problem(
        'bad-field',
        `${row.at('observationID')}: expected each observation once, found ${quoted(observationID)} again; take one of them out`,
      );
    }
    seen.add(observationID);
    const observation = observationOf(row, from);
    if (observation.kind === 'box') {
      rows.push(observation);
      continue;
    }
    const fitting = within.fit(observation.start, observation.end);
    if (isVisit(observation)) visits[fitting ? 'in' : 'out']++;
    if (!fitting) continue;
    nothing ||= observation.kind === null && observation.type === 'blank';
    noteLeft(row, observation, left);
    rows.push({ ...observation, ...fitting });
  }
  const some = rows.some(({ kind }) => kind !== 'box');
  return {
    rows,
    all,
    stray,
    strays,
    tells: visits.in > 0 || nothing || (some && visits.out === 0),
    left,
    within,
  };
}

function isVisit({ kind, setup, type }: Observation): boolean {
  return kind === 'visit' || (kind === null && setup === null && type !== 'blank');
}

/** Rows that may be of this clip, for nothing says of what else they are. */
function strayNote(first: string | undefined, count: number): string[] {
  if (first === undefined) return [];
  const rows =
    count === 1
      ? '1 row was left out, because its deployment is'
      : `${count} rows were left out, because their deployments are`;
  return [`${rows} in no row of the table of deployments (${first})`];
}

const SHOWN = 3;

/** A friend's correction is taken, and the owner told of it. */
function renamedNote(renamed: OwnTold['renamed']): string[] {
  if (renamed.length === 0) return [];
  const names = renamed.slice(0, SHOWN).map(({ was, is }) => `${quoted(is)} (was ${quoted(was)})`);
  const more = renamed.length - names.length;
  return [
    `${plural(renamed.length, 'visit')} of yours ${renamed.length === 1 ? 'has' : 'have'} another name in scientificName, which was taken: ${names.join(', ')}${more > 0 ? ` and ${more} more` : ''}`,
  ];
}

function noteLeft(row: TableRow, { kind }: Observation, left: Map<string, number>): void {
  const columns = kind === null ? [...LEFT_ALONE, ...LEFT_ALONE_OF_OTHERS] : LEFT_ALONE;
  for (const column of columns) {
    if (row.get(column) !== '') left.set(column, (left.get(column) ?? 0) + 1);
  }
}

function notHeldOf(left: ReadonlyMap<string, number>, looseBoxes: number): NotHeld[] {
  const columns = [...left].map(([what, count]) => ({
    what,
    count,
    kept: null,
    says: `${what} of ${plural(count, 'row')}`,
  }));
  if (looseBoxes === 0) return columns;
  const says = `${plural(looseBoxes, 'box', 'boxes')} that ${looseBoxes === 1 ? 'belongs' : 'belong'} to no single visit`;
  return [...columns, { what: 'boxes', count: looseBoxes, kept: null, says }];
}

/** What was looked through, where nothing says so the time of the rows; and what rows of others tell of beside it. */
function reviewedOf(
  known: readonly Stretch[] | null,
  own: readonly Stretch[],
  lookedAt: readonly Stretch[],
  gap: number,
): Stretch[] {
  return known === null
    ? joined([...own, ...lookedAt], gap)
    : lookedAt.length === 0
      ? [...known]
      : joined([...known, ...lookedAt]);
}

function cutTo(stretches: readonly Stretch[], seconds: number): Stretch[] {
  return stretches
    .filter(({ start }) => start <= seconds)
    .map(({ start, end }) => ({ start, end: Math.min(end, seconds) }));
}

function orNone<K extends string, V>(name: K, list: V[]): Partial<Record<K, V[]>> {
  return list.length === 0 ? {} : ({ [name]: list } as Record<K, V[]>);
}

function elsewhere(
  path: string,
  { id, start, end }: Deployment,
  from: Moment,
  { clip }: Wanted,
  { outside, nearest }: Within,
): Problem {
  const until = { ms: from.ms + Math.min(LATEST, Math.ceil(clip.seconds)) * 1000, offset: from.offset };
  return new Problem(
    'bad-times',
    `${path}: expected observations while the clip ${clip.dir} was recorded, ${rfc3339(from)} to ${rfc3339(until)}, found none of ${outside} of the deployment ${quoted(id)}, ${rfc3339(start)} to ${rfc3339(end)}: the nearest lies ${clock(Math.abs(nearest))} ${nearest < 0 ? 'before it' : 'after it'}; mend "start" in clip.json or --start, or choose another with --deployment`,
  );
}
