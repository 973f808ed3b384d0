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
    return `Nobody said what you use now${how}, so this is compared with every dial at its middle${dials}.`;
  }
  const names = Object.entries(unnamed).map(([name, at]) => `${name} is taken as ${at}`);
  const missing = names.length > 0 ? ` Not named there: ${names.join(', ')}.` : '';
  return `Compared with what you use now${dials}.${missing}`;
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
  const kept = (score: Score) => isKept(score, allowance);
  const isWorthIt = worth !== null && visits * worth.photos >= nothing;
  const isWithin = allowance !== null && kept(recommended.score);
  if (verdict === 'keep') {
    // One of the two is worse for certain, and yet the whole is what was asked for.
    return { what: isWorthIt || (isWithin && !kept(now.score)) ? 'too little to tell' : 'keep' };
  }
  if (verdict === 'change' && visits < 0 && (worth ? !isWorthIt : kept(now.score))) {
    // Fewer false triggers for certain, and yet it is not what was asked for.
    return { what: 'too little to tell' };
  }
  if (verdict !== 'more of both' && verdict !== 'less of both') return { what: verdict };
  const of = verdict === 'more of both' ? 'More' : 'Fewer';
  if (worth) return { what: isWorthIt ? 'change' : 'keep', both: { of, by: 'worth' } };
  return isWithin && (of === 'More' || !kept(now.score))
    ? { what: 'change', both: { of, by: 'allowance' } }
    : { what: 'undecided', both: { of, by: null } };
}

function isKept({ falsePerHour }: Score, allowance: SiteResult['allowance']): boolean {
  return falsePerHour !== null && falsePerHour.value <= (allowance?.falsePerHour ?? 0) + 1e-9;
}

/** Why to change, with what gets worse by it on these clips; where nothing does, just better. */
function betterText({ now, recommended, allowance }: SiteResult): string {
  const { gained, lost } = now.against;
  if (lost.length > gained.length) {
    const breaks =
      allowance !== null && !isKept(now.score, allowance) && isKept(recommended.score, allowance);
    return breaks
      ? `${now.assumed ? 'That' : 'Yours'} breaks the allowance; this keeps it on these clips, and catches fewer visits`
      : 'Fewer false triggers for certain, and fewer visits on these clips';
  }
  return recommended.score.falseTriggers > now.score.falseTriggers
    ? 'More visits for certain, and more false triggers on these clips'
    : 'Better';
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
      return `${betterText(site)}${yours ? ': change' : ''}.`;
    case 'keep':
      return yours ? 'Worse: keep yours.' : 'Worse, on these clips.';
    default:
      return `Too little to tell whether that is better${yours ? ': keep yours if you are content' : ''}.`;
  }
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
