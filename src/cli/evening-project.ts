import { Problem } from '../base/problem.js';
import { resolved } from '../files/output-folder.js';
import { PROJECT, type Project, sitesNamed } from '../files/project.js';
import { isThere } from '../files/regular.js';
import { projectFor } from './project.js';

/** What may be left out where a project says it. */
export interface EveningGiven {
  folder: string | undefined;
  marks?: string | undefined;
  promised?: string | undefined;
  site?: string | undefined;
  camera?: string | undefined;
}

export interface EveningFound extends EveningGiven {
  folder: string;
  /** Where marks are to be written that are not there yet; undefined: beside the sheet. */
  marksTo: string | undefined;
  /** The file of the project, where one was read. */
  project: string | undefined;
}

/**
 * What a verb about an evening is to take: what was given by hand, and what the project in this folder says of that evening
 * where something was left out; of its last one where no folder was given.
 * @throws Problem where no folder is given or known, or the project is wrong
 */
export async function eveningFound(
  given: EveningGiven,
  onWarning: (line: string) => void,
): Promise<EveningFound> {
  const project = await projectFor([]);
  const entry = project && (await entryOf(project, given.folder));
  const folder = given.folder ?? entry?.folder;
  if (folder === undefined) {
    throw new Problem(
      'usage',
      `evening: expected a folder of photos, found none, nor an evening in ${PROJECT} of this folder; name the folder, or enter it there under "evenings"`,
    );
  }
  if (!project || !entry) return { ...given, folder, marksTo: undefined, project: undefined };
  const filled = entry.marks !== undefined && (await isThere(entry.marks));
  const marks = given.marks ?? (filled ? entry.marks : undefined);
  const promised = given.promised ?? (marks === undefined ? undefined : promiseFor(entry, project));
  const site = given.site ?? (promised === undefined ? undefined : entry.site);
  const camera =
    given.camera ?? (entry.site === undefined ? undefined : sitesNamed(project, entry.site)[0]?.camera);
  const found = { folder, marks, promised, site, camera };
  onWarning(takenText(project, entry, given, found));
  return { ...found, marksTo: marks === undefined ? entry.marks : undefined, project: project.file };
}

type Entry = Project['evenings'][number];

/** What was promised for an evening: its own file, else the last plan where it is known of which spot it speaks. */
function promiseFor({ promised, site }: Entry, { plans, sites }: Project): string | undefined {
  return promised ?? (site !== undefined || sites.length === 1 ? plans.at(-1) : undefined);
}

/** By where the folders lead, for a folder may be named in many ways. */
async function entryOf({ evenings }: Project, folder: string | undefined): Promise<Entry | null> {
  if (folder === undefined) return evenings.at(-1) ?? null;
  const wanted = await resolved(folder);
  for (const entry of evenings) if ((await resolved(entry.folder)) === wanted) return entry;
  return null;
}

function takenText(
  { file, evenings }: Project,
  entry: Entry,
  given: EveningGiven,
  found: EveningGiven & { folder: string },
): string {
  const names = ['folder', 'marks', 'promised', 'site', 'camera'] as const;
  const taken = names.filter((name) => given[name] === undefined && found[name] !== undefined);
  const what = taken.map((name) => `${name} ${found[name]}`).join(', ');
  return `from ${file}: evenings[${evenings.indexOf(entry)}]${what === '' ? ', all of it given by hand' : `: ${what}`}`;
}
