import type { Camera } from '../camera/description.js';
import type { Choice, SiteResult } from '../jobs/tune.js';
import { FEWEST_FOR_ENOUGH, FEWEST_TO_TELL } from '../tune/tells.js';
import { isAsUsed, weighed } from './against-now.js';
import { askedText, hoursItTakes, triedText } from './asked.js';
import { FIRST } from './choices.js';
import { photosOfNothingOut, photosOnClips, WHOLE_DAY } from './photos-out.js';
import { siteName } from './site-name.js';
import { dialsText, figure, plural, watched } from './wording.js';

export { siteName } from './site-name.js';

/** What is to be done at a site: what is said of it at all places follows from this. */
export type Advice = 'too little' | 'none caught' | 'use' | 'as used' | 'keep if content' | 'keep';

/** Whether to use what is recommended. Where nobody said what is used, there is nothing to keep. */
export function adviceOn(site: SiteResult, camera: Pick<Camera, 'burst'>): Advice {
  if (site.tells === 'too little') return 'too little';
  if (catchesNone(site.recommended)) return 'none caught';
  if (site.now.assumed) return 'use';
  if (isAsUsed(site)) return 'as used';
  const { what } = weighed(site, camera);
  if (what === 'change') return 'use';
  return what === 'keep' ? 'keep' : 'keep if content';
}

/** Whether settings catch no visit, but for luck: the best of all by what was asked for, and of no use. */
function catchesNone({ score: { caught, byLuck } }: Pick<Choice, 'score'>): boolean {
  return caught - (byLuck ?? 0) === 0;
}

/** What to do where nothing that keeps to what was asked for catches a visit. */
function noneCaughtText(site: SiteResult): string {
  const { recommended, worth } = site;
  const { visits, byLuck } = recommended.score;
  const cure = worth ? 'say that a visit is worth more photos of nothing' : 'allow more false triggers';
  return `Nothing tried catches any of the ${plural(visits, 'visit')} at the price asked for${byLuck ? ', but by luck' : ''}: ${cure}, or hang the camera where less moves. First by that price: ${dialsText(recommended.controls)}${withMask(site)}`;
}

/** The answer in one line: what to use, or that it cannot be told. */
export function headline(site: SiteResult, camera: Pick<Camera, 'burst'>): string {
  const dials = `${dialsText(site.recommended.controls)}${withMask(site)}`;
  const use = site.tells === 'hint' ? 'as a hint, use' : 'use';
  switch (adviceOn(site, camera)) {
    case 'too little':
      return 'Too little to tell which settings are best.';
    case 'none caught':
      return noneCaughtText(site);
    case 'use':
      return `${use.charAt(0).toUpperCase()}${use.slice(1)} ${dials}`;
    case 'as used':
      return `${site.tells === 'hint' ? 'As a hint, leave' : 'Leave'} it as you use it now: ${dials}`;
    case 'keep if content':
      return `Keep what you use now if you are content; else ${use} ${dials}`;
    case 'keep':
      return `Keep what you use now, rather than ${dials}`;
  }
}

/** What stands over the dials of a site. */
export function headingOver(site: SiteResult, camera: Pick<Camera, 'burst'>): string {
  switch (adviceOn(site, camera)) {
    case 'too little':
      return `Too little to tell; until then ${FIRST}`;
    case 'none caught':
      return 'This catches nothing: ask for less, or hang the camera elsewhere';
    case 'use':
      return site.tells === 'hint' ? 'As a hint, set it like this' : 'Set it like this';
    case 'as used':
      return site.tells === 'hint' ? 'As a hint, leave it as it is' : 'Leave it as it is';
    case 'keep if content':
      return 'If you are not content, set it like this';
    case 'keep':
      return 'Keep what you use now, rather than this';
  }
}

/** That a mask belongs to the recommended settings, to stand after the dials; empty without one. */
export function withMask({ mask }: Pick<SiteResult, 'mask'>): string {
  return mask ? `, with a mask of ${plural(mask.polygons.length, 'shape')}` : '';
}

/** Why too little can be told, and what to record for it. */
export function whatToRecord(site: SiteResult): string {
  const { recommended } = site;
  const { score } = recommended;
  const here = `There ${score.visits === 1 ? 'is' : 'are'} ${plural(score.visits, 'visit')} in a recording with ${watched(score.watchedHours)} (those with nothing in view).`;
  const quiet = untoldText(site);
  return `${here}${leavesOpenText(recommended)} ${moreVisitsText(recommended)}${quiet && ` To tell ${quiet}.`}`;
}

/** What recording it takes to tell whether an allowance is kept; empty where this one tells, or none would. */
export function untoldText({
  recommended,
  allowance,
}: Pick<SiteResult, 'recommended' | 'allowance'>): string {
  const hours = allowance && hoursItTakes(allowance);
  if (allowance === null || hours === null || recommended.score.watchedHours >= hours) return '';
  const most = figure(allowance.falsePerHour);
  return `whether ${most} false ${most === '1' ? 'trigger an hour is' : 'triggers an hour are'} kept takes ${watched(hours)}`;
}

/** Why visits enough for a hint are none, where that is so: what they let say of other footage; with a space before it, or empty. */
function leavesOpenText({ score: { visits }, unseen }: Pick<Choice, 'score' | 'unseen'>): string {
  return visits >= FEWEST_TO_TELL && unseen.moreVisits > 0
    ? ' Tried on footage left out, they leave open nearly any share caught elsewhere.'
    : '';
}

/** How many visits more to label, for a hint and for advice to rest on; by the same bounds as everything is told by. */
export function moreVisitsText({ score: { visits }, unseen }: Pick<Choice, 'score' | 'unseen'>): string {
  if (unseen.moreVisits === 0 && visits >= FEWEST_TO_TELL) {
    return 'Record a second clip here, so that one can be left out to try on what was chosen on the other.';
  }
  const hint = Math.max(unseen.moreVisits, FEWEST_TO_TELL - visits);
  const enough = Math.max(hint, FEWEST_FOR_ENOUGH - visits);
  const isHint = visits + hint < FEWEST_FOR_ENOUGH;
  const rest = isHint ? `a hint; about ${enough} more for advice to rest on` : 'advice to rest on';
  return `Label about ${plural(hint, 'more visit', 'more visits')}, on other days if you can, for ${rest}.`;
}

/** From so many photos of nothing a day on it is said what to do where that is too many. */
const MANY_PHOTOS = 300;

/** What to do on the command line where the photos of nothing are too many. */
export function fewerPhotosText(hoursOut = WHOLE_DAY): string {
  return `If that is too many to look through: tune --photos-per-day 50 --hours-out ${hoursOut}`;
}

/** Photos of nothing that some settings would take in a day out at such a rate; null without watched time. */
export function photosOfNothing(
  { falsePerHour }: { falsePerHour: { value: number } | null },
  { burst }: Pick<Camera, 'burst'>,
): number | null {
  return falsePerHour && falsePerHour.value * WHOLE_DAY * burst.photos;
}

/**
 * What to do where the settings may take too many photos of nothing to look through; null where they do not. Where it was said
 * how many may be, how many they take against that, however few.
 * @param advice what to do about it where this is read, and nobody said how many may be
 */
export function tooManyText(
  sites: readonly SiteResult[],
  cameraOf: (site: SiteResult) => Pick<Camera, 'burst'>,
  advice: string,
  hoursOut = WHOLE_DAY,
): string | null {
  const told = sites.filter(({ tells }) => tells !== 'too little');
  const takes = told.flatMap((site) => {
    const photos = photosOfNothingOut(site, cameraOf(site), hoursOut);
    const onClips = photosOnClips(site, cameraOf(site), hoursOut);
    return photos ? [{ site, photos, onClips, burst: cameraOf(site).burst.photos }] : [];
  });
  const [most] = takes.sort((a, b) => b.photos.value - a.photos.value);
  if (!most) return null;
  const asked = askedText(most.site, cameraOf(most.site), hoursOut);
  if (asked === null && most.photos.value <= MANY_PHOTOS) return null;
  const { value, low, high } = most.photos;
  const where =
    sites.length > 1 ? ` at ${siteName(most.site)}${told.length > 1 ? ', where they are most' : ''}` : '';
  const each = most.burst === 1 ? '' : `, ${most.burst} a trigger`;
  const by =
    most.onClips === null
      ? 'were all of them like these clips'
      : `as ${triedText(most.site)}; ${figure(most.onClips)} at the rate of these clips themselves`;
  return `About ${figure(value)} photos of nothing in ${plural(hoursOut, 'hour')} out${where} (90 %: ${figure(low)}–${figure(high)}${each}), ${by}. ${asked ?? advice}`;
}

/** What a choice is made for. */
export function goalText({ allowance, worth }: SiteResult): string {
  if (worth) return `one more visit is taken to be worth ${figure(worth.photos)} photos of nothing`;
  if (!allowance) return '';
  const sure =
    allowance.sure === null ? '' : `, kept with a probability of ${allowance.sure} where that can be told`;
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

/** The dials of a group that differ from others, in words; `none` where no dial does. */
export function differing(
  controls: Record<string, number>,
  names: readonly string[],
  none = 'as everywhere',
): string {
  return names.length === 0
    ? none
    : dialsText(Object.fromEntries(names.map((name) => [name, controls[name] as number])));
}
