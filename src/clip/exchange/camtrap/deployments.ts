import { Problem } from '../../../base/problem.js';
import { quoted } from '../../../base/text.js';
import type { Wanted } from '../format.js';
import { type Moment, momentOf } from '../moment.js';
import { recordingId } from '../recording.js';
import type { Package, TableFile } from './package.js';
import { tableRows } from './table.js';
import { neededColumns } from './tables.js';

/** A time for which a camera hung at one place. */
export interface Deployment {
  id: string;
  locationName: string;
  start: Moment;
  end: Moment;
  tags: string;
  /** Clock doubts that the package itself tells of. */
  timestampIssues: boolean;
}

/** More of them than anybody chooses from, and less than fills the memory. */
const MOST = 200_000;
const SHOWN = 5;

/** All deployments of a package; of observations that came alone what they tell of theirs. */
export async function deploymentsOf(
  { deployments, observations }: Package,
  signal: AbortSignal | undefined,
): Promise<Map<string, Deployment>> {
  return deployments ? listed(deployments, signal) : told(observations, signal);
}

async function listed(
  { file, delimiter }: TableFile,
  signal: AbortSignal | undefined,
): Promise<Map<string, Deployment>> {
  const all = new Map<string, Deployment>();
  for await (const row of tableRows(file, 'deployments', neededColumns.deployments, { delimiter, signal })) {
    const id = row.get('deploymentID');
    if (all.has(id)) {
      throw new Problem(
        'bad-field',
        `${row.at('deploymentID')}: expected each deployment once, found ${quoted(id)} again; take one of them out`,
      );
    }
    add(all, file, {
      id,
      locationName: row.get('locationName'),
      start: momentOf(row.get('deploymentStart'), row.at('deploymentStart')),
      end: momentOf(row.get('deploymentEnd'), row.at('deploymentEnd')),
      tags: row.get('deploymentTags'),
      timestampIssues: /^true$/i.test(row.get('timestampIssues')),
    });
  }
  return all;
}

async function told(
  { file, delimiter }: TableFile,
  signal: AbortSignal | undefined,
): Promise<Map<string, Deployment>> {
  const all = new Map<string, Deployment>();
  const required = ['deploymentID', 'eventStart', 'eventEnd'];
  for await (const row of tableRows(file, 'observations', required, { delimiter, signal })) {
    const id = row.get('deploymentID');
    const start = momentOf(row.get('eventStart'), row.at('eventStart'));
    const end = momentOf(row.get('eventEnd'), row.at('eventEnd'));
    const known = all.get(id);
    if (!known) add(all, file, { id, locationName: '', start, end, tags: '', timestampIssues: false });
    else {
      if (start.ms < known.start.ms) known.start = start;
      if (end.ms > known.end.ms) known.end = end;
    }
  }
  return all;
}

function add(all: Map<string, Deployment>, file: string, deployment: Deployment): void {
  if (all.size >= MOST) {
    throw new Problem(
      'bad-field',
      `${file}: expected at most ${MOST} deployments, found more; take out those of other places`,
    );
  }
  all.set(deployment.id, deployment);
}

/**
 * The deployment that a clip is of: the one that is named; else the only one, the one that this recording was written as, the one
 * of its site, or the one of its time, whichever of these is one alone.
 * @throws Problem where none or several are
 */
export function deploymentFor(
  all: ReadonlyMap<string, Deployment>,
  file: string,
  { clip, deployment }: Pick<Wanted, 'clip' | 'deployment'>,
  start: Moment,
): Deployment {
  if (deployment !== null) {
    const named = all.get(deployment);
    if (named) return named;
    throw new Problem(
      'usage',
      `--deployment: expected one of ${file}, found ${quoted(deployment)}; it holds ${listOf([...all.values()])}`,
    );
  }
  const own = all.get(recordingId(clip.contentKey));
  if (own) return own;
  const { site } = clip.manifest;
  const every = [...all.values()];
  const there = site === undefined ? [] : every.filter(({ locationName }) => locationName === site);
  const among = there.length > 0 ? there : every;
  if (among.length === 1) return among[0]!;
  const until = start.ms + clip.seconds * 1000;
  const then = among.filter((one) => one.start.ms <= until && one.end.ms >= start.ms);
  if (then.length === 1) return then[0]!;
  if (every.length === 0) {
    throw new Problem(
      'bad-field',
      `${file}: it holds no deployment and no observation; give a package that does`,
    );
  }
  const [several, which] = then.length > 0 ? [then, 'of its time'] : [among, 'but none of its time'];
  throw new Problem(
    'usage',
    `${clip.dir}: expected one deployment of ${file} that is of this clip, found ${several.length} ${which}${there.length > 0 ? ' and site' : ''}: ${listOf(several)}; name one with --deployment`,
  );
}

function listOf(all: readonly Deployment[]): string {
  const names = all
    .slice(0, SHOWN)
    .map(({ id, locationName }) =>
      locationName === '' ? quoted(id) : `${quoted(id)} (${quoted(locationName)})`,
    );
  const more = all.length - names.length;
  return `${names.join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}
