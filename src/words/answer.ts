import type { SiteResult } from '../jobs/tune.js';
import { type Now, type NowVerdict, verdictOn } from '../tune/now.js';
import { dialsText, figure, plural, watched } from './wording.js';

/** What a site is called: its name, or else its clips. */
export function siteName({ site, clips }: Pick<SiteResult, 'site' | 'clips'>): string {
  return site ?? (clips.length === 1 ? clips[0]! : 'no site named');
}

/** The answer in one line: what to use, or that it cannot be told. */
export function headline({ tells, recommended }: SiteResult): string {
  if (tells === 'too little') return 'Too little to tell which settings are best.';
  return `${tells === 'hint' ? 'As a hint, use' : 'Use'} ${dialsText(recommended.controls)}`;
}

/** Why too little can be told, and what to record for it. */
export function whatToRecord({ recommended, allowance }: SiteResult): string {
  const { score, unseen } = recommended;
  const here = `There ${score.visits === 1 ? 'is' : 'are'} ${plural(score.visits, 'visit')} in ${watched(score.watchedHours)}.`;
  const visits =
    unseen.moreVisits === 0
      ? ' Record a second clip here, so that one can be left out to try on what was chosen on the other.'
      : unseen.moreVisits > 0
        ? ` Record until you have labelled about ${plural(unseen.moreVisits, 'visit')} more, on other days if you can.`
        : '';
  const hours = allowance?.hoursNeeded ?? null;
  const quiet =
    hours !== null && score.watchedHours < hours
      ? ` To tell whether ${figure(allowance?.falsePerHour ?? 0)} false triggers an hour are kept takes ${watched(hours)}.`
      : '';
  return `${here}${visits}${quiet}`;
}

/** Two or three sensible choices along the front, from the most visits to the fewest false triggers, with their intervals. */
export function sensibleChoices({ front, recommended }: SiteResult): SiteResult['front'] {
  if (front.length <= 3) return front;
  const near = (recall: number) =>
    front.reduce((a, b) => (Math.abs((b.recall ?? 0) - recall) < Math.abs((a.recall ?? 0) - recall) ? b : a));
  const most = front[0]?.recall ?? 1;
  const middle = recommended.score.recall?.value ?? most / 2;
  const chosen = new Set([near(most), near(middle), near(middle / 2)]);
  return [...chosen].sort((a, b) => (b.recall ?? 0) - (a.recall ?? 0));
}

/** Whether to change what is used now, and what that does, visit by visit. */
export function nowText(now: Now): string {
  const { against, controls, assumed } = now;
  const what = assumed
    ? `Nobody said what you use now (--now), so it is held against every dial at its middle${controls ? ` (${dialsText(controls)})` : ''}`
    : `Against what you use now${controls ? ` (${dialsText(controls)})` : ''}`;
  const visits = `${plural(against.gained.length, 'visit')} more caught, ${against.lost.length} lost${against.recall ? `, ${points(against.recall)} points of recall` : ''}`;
  const rate = against.falsePerHour ? `; false triggers an hour ${signed(against.falsePerHour)}` : '';
  return `${what}: ${visits}${rate}. ${verdicts(assumed ? 'them' : 'yours')[verdictOn(now)]}`;
}

/** @param present what is kept where it is kept */
function verdicts(present: 'yours' | 'them'): Record<NowVerdict, string> {
  const keep = present === 'yours' ? 'keep yours' : 'leave them';
  return {
    change: 'Better: change.',
    keep: present === 'yours' ? 'Keep yours.' : 'Leave them.',
    'more of both': `More visits and more false triggers, both for certain: change if the visits are worth that to you, else ${keep}.`,
    'less of both': `Fewer visits and fewer false triggers, both for certain: change if that is worth it to you, else ${keep}.`,
    'too little to tell': `Too little to tell whether it is better: ${keep} if you are content.`,
  };
}

/** +12 (-3 to 26) */
function points({ value, low, high }: { value: number; low: number; high: number }): string {
  const point = (x: number) => String(Math.round(100 * x));
  return `${value > 0 ? '+' : ''}${point(value)} (${point(low)} to ${point(high)})`;
}

function signed({ value, low, high }: { value: number; low: number; high: number }): string {
  return `${value > 0 ? '+' : ''}${figure(value)} (${figure(low)} to ${figure(high)})`;
}

/** What a choice is made for. */
export function goalText({ allowance, worth }: SiteResult): string {
  if (worth) return `one more visit is taken to be worth ${figure(worth.photos)} photos of nothing`;
  if (!allowance) return '';
  const sure =
    allowance.sure === null ? '' : `, kept with a probability of ${allowance.sure} where any settings can`;
  return `at most ${figure(allowance.falsePerHour)} false triggers an hour are to be had${sure}`;
}

/** The dials that stand alike in all of some groups of settings, and the names of the others. */
export function alike(groups: readonly Record<string, number>[]): {
  same: Record<string, number>;
  differ: string[];
} {
  const names = Object.keys(groups[0] ?? {});
  const isSame = (name: string) => groups.every((group) => group[name] === groups[0]?.[name]);
  return {
    same: Object.fromEntries(names.filter(isSame).map((name) => [name, groups[0]?.[name] as number])),
    differ: names.filter((name) => !isSame(name)),
  };
}

/** The dials of a group that differ from others, in words. */
export function differing(controls: Record<string, number>, names: readonly string[]): string {
  return names.length === 0
    ? 'as everywhere'
    : dialsText(Object.fromEntries(names.map((name) => [name, controls[name] as number])));
}
