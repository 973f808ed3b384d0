import type { Camera } from '../camera/description.js';
import { engineValues } from '../camera/dials.js';
import type { SiteResult } from '../jobs/tune.js';
import type { Score } from '../score/score.js';
import { type Now, verdictOn } from '../tune/now.js';
import { FIRST } from './choices.js';
import { siteName } from './site-name.js';
import { type Between, dialsText, figure, plural } from './wording.js';

/**
 * What the recommended settings are held against, and which dials were not named: a sentence for all sites.
 * @param how it is said where this is read, ' (--now)'; left out: nothing of that
 */
export function usedText({ controls, assumed, unnamed }: Now, how = ''): string {
  const dials = controls ? ` (${dialsText(controls)})` : '';
  if (assumed) {
    return `Nobody said what you use now${how}, so it is held against every dial at its middle${dials}.`;
  }
  const names = Object.entries(unnamed).map(([name, at]) => `${name}, which then stands at ${at}`);
  const missing = names.length > 0 ? ` Not named there: ${names.join('; ')}.` : '';
  return `Held against what you use now${dials}.${missing}`;
}

/** As `usedText`, of several sites: once where all are held against the same, else site by site. */
export function usedBySite(sites: readonly SiteResult[], how = ''): string[] {
  const used = sites.map(({ now }) => usedText(now, how));
  const [first] = used;
  if (first === undefined || used.every((text) => text === first)) return used.slice(0, 1);
  return sites.map((site, i) => `${siteName(site)}: ${used[i]}`);
}

/** What changing from what is used now does, visit by visit, and whether to. */
export function nowText(site: SiteResult, camera: Pick<Camera, 'burst'>): string {
  const { gained, lost, byLuck, recall, falsePerHour } = site.now.against;
  const first = site.tells === 'too little' ? `${FIRST}: ` : '';
  if (isAsUsed(site)) return `${first}${site.now.assumed ? 'The very same dials' : 'The same as you use'}.`;
  const lucky = (n = 0) => (n === 0 ? '' : `, ${n} of them by luck`);
  const visits = `${plural(gained.length, 'visit')} more caught${lucky(byLuck?.gained)}, ${lost.length} lost${lucky(byLuck?.lost)}${recall ? `; of every 100 visits ${points(recall)}` : ''}`;
  const rate = falsePerHour ? `; false triggers an hour ${signed(falsePerHour)}` : '';
  return `${first}${visits}${rate}.${site.tells === 'too little' ? '' : ` ${verdictText(site, camera)}`}`;
}

/** Whether what is recommended is what is used now, to every dial and the mask. */
export function isAsUsed({ now, recommended }: Pick<SiteResult, 'now' | 'recommended'>): boolean {
  return (
    engineValues.every((value) => now.settings[value] === recommended.settings[value]) &&
    JSON.stringify(now.settings.mask ?? []) === JSON.stringify(recommended.settings.mask ?? [])
  );
}

export interface Weighed {
  what: 'change' | 'keep' | 'undecided' | 'too little to tell';
  /** Where visits and false triggers speak against each other, and what weighs them. */
  both?: { of: 'More' | 'Fewer'; by: 'worth' | 'allowance' | null };
}

/** The verdict, where visits and false triggers speak against each other by what was said to be wanted. */
export function weighed(site: SiteResult, { burst }: Pick<Camera, 'burst'>): Weighed {
  const { now, worth, allowance, recommended } = site;
  const verdict = verdictOn(now);
  const visits = now.against.gained.length - now.against.lost.length;
  const nothing = burst.photos * (recommended.score.falseTriggers - now.score.falseTriggers);
  const kept = ({ falsePerHour }: Score) =>
    falsePerHour !== null && falsePerHour.value <= (allowance?.falsePerHour ?? 0) + 1e-9;
  const isWorthIt = worth !== null && visits * worth.photos >= nothing;
  const isWithin = allowance !== null && kept(recommended.score);
  if (verdict === 'keep') {
    // One of the two is worse for certain, and yet the whole is what was asked for.
    return { what: isWorthIt || (isWithin && !kept(now.score)) ? 'too little to tell' : 'keep' };
  }
  if (verdict !== 'more of both' && verdict !== 'less of both') return { what: verdict };
  const of = verdict === 'more of both' ? 'More' : 'Fewer';
  if (worth) return { what: isWorthIt ? 'change' : 'keep', both: { of, by: 'worth' } };
  return isWithin && (of === 'More' || !kept(now.score))
    ? { what: 'change', both: { of, by: 'allowance' } }
    : { what: 'undecided', both: { of, by: null } };
}

function verdictText(site: SiteResult, camera: Pick<Camera, 'burst'>): string {
  const { what, both } = weighed(site, camera);
  const yours = !site.now.assumed;
  if (both) {
    const by = {
      worth: `, ${what === 'change' ? 'and worth it' : 'and not worth it'} where a visit is worth ${figure(site.worth?.photos ?? 0)} photos of nothing`,
      allowance: ', and within what is allowed',
      none: '; whether it is worth that is yours to say',
    }[both.by ?? 'none'];
    const then = { change: ': change', keep: ': keep yours', undecided: '', 'too little to tell': '' }[what];
    return `${both.of} visits and ${both.of.toLowerCase()} false triggers, both for certain${by}${yours ? then : ''}.`;
  }
  switch (what) {
    case 'change':
      return `Better${butText(site)}${yours ? ': change' : ''}.`;
    case 'keep':
      return yours ? 'Worse: keep yours.' : 'Worse, on these clips.';
    default:
      return `Too little to tell whether that is better${yours ? ': keep yours if you are content' : ''}.`;
  }
}

/** What rather speaks against it where one of the two is better for certain; empty where nothing does. */
function butText({ now: { against } }: SiteResult): string {
  const { recall, falsePerHour } = against;
  if (recall && recall.value < 0) return ' by false triggers alone, and it rather catches fewer visits';
  if (falsePerHour && falsePerHour.value > 0)
    return ' by visits alone, and it rather fires falsely more often';
  return '';
}

/** 12 more (90 %: 3 fewer to 26 more) */
export function points({ value, low, high }: Between): string {
  const point = (x: number) => String(Math.round(100 * Math.abs(x)));
  const end = (x: number) => (x < 0 ? `${point(x)} fewer` : `${point(x)} more`);
  return `${end(value)} (90 %: ${end(low)} to ${end(high)})`;
}

export function signed({ value, low, high }: Between): string {
  return `${value > 0 ? '+' : ''}${figure(value)} (${figure(low)} to ${figure(high)})`;
}
