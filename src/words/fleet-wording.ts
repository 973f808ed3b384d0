import { figure, plural } from './wording.js';

/** How far something is. */
export interface ProgressTold {
  jobs: number;
  ended: number;
  running: number;
  secondsLeft: number | null;
}

/** Counts of a site. */
export interface CountsTold {
  visits: number | null;
  missed: number;
  falseTriggers: number;
  watchedHours: number | null;
}

/** A site in the table of a fleet. */
export interface SiteTold {
  site: string | null;
  verb: string;
  source: string;
  change: string | null;
  now: CountsTold | null;
  before: CountsTold | null;
}

/** A run of a fleet. */
export interface RunTold {
  run: string;
  verb: string;
  source: string;
  state: 'waiting' | 'running' | 'ended' | 'failed' | 'lost';
  code: number | null;
  message: string | null;
  document: string | null;
  progress: ProgressTold;
  troubles: readonly { message: string }[];
}

export const fleetHeads = ['site', 'of', 'change', 'missed', 'false/h', 'left'] as const;

/** A row of the table; counts of the time before stand behind an arrow's tail. */
export function fleetCells({ site, verb, source, change, now, before }: SiteTold, left: string): string[] {
  const both = (told: (counts: CountsTold) => string) =>
    now === null ? '-' : before === null ? told(now) : `${told(before)} -> ${told(now)}`;
  return [
    site ?? 'no site named',
    `${verb} ${source}`,
    change ?? '-',
    both(({ missed, visits }) => (visits === null ? `${missed}` : `${missed} of ${visits}`)),
    both(({ falseTriggers, watchedHours }) =>
      watchedHours === null || watchedHours === 0
        ? `${falseTriggers} in all`
        : figure(falseTriggers / watchedHours),
    ),
    left,
  ];
}

/** What a change is called where sites are counted, those to look at first. */
const COUNTED = [
  ['worse', 'worse'],
  ['changed', 'changed both ways'],
  ['new', 'new'],
  ['better', 'better'],
  ['same', 'the same'],
  [null, 'not told'],
] as const;

/** 2 worse, 1 better, 40 the same. */
export function changesText(sites: readonly Pick<SiteTold, 'change'>[]): string {
  const counted = COUNTED.flatMap(([change, called]) => {
    const count = sites.filter((site) => site.change === change).length;
    return count === 0 ? [] : [`${count} ${called}`];
  });
  return counted.length === 0 ? 'No site was submitted yet.' : `${counted.join(', ')}.`;
}

/** done; 3 of 7 jobs; 3 of 7 jobs, about 12 min */
export function leftText({ jobs, ended, secondsLeft }: ProgressTold): string {
  if (jobs === ended) return 'done';
  const long = secondsLeft === null ? '' : `, about ${longText(secondsLeft)}`;
  return `${jobs - ended} of ${plural(jobs, 'job')}${long}`;
}

function longText(seconds: number): string {
  if (seconds < 90) return `${Math.ceil(seconds)} s`;
  return seconds < 5400 ? `${Math.ceil(seconds / 60)} min` : `${figure(seconds / 3600)} h`;
}

/** A run in a sentence or two. */
export function runText({ run, state, code, message, document, progress }: RunTold): string {
  if (state === 'failed') return `${run}: its document could not be written: ${message ?? ''}`;
  if (state === 'lost') return `${run}: ${message ?? ''}`;
  if (state !== 'ended') {
    const nobody = progress.running === 0 ? '; nobody is at work on it' : `, ${progress.running} at work`;
    return `${run}: ${leftText(progress)} left${nobody}.`;
  }
  if (code === 2) return `${run}: ended without a document: ${message ?? ''}`;
  return `${run}: ${code === 1 ? 'the check fails' : 'done'}; ${document ?? ''}`;
}
