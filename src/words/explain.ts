import type { SiteResult } from '../jobs/tune.js';
import type { Score } from '../score/score.js';
import type { Choice } from '../tune/site-result.js';
import { moreVisitsText } from './answer.js';
import { hoursItTakes, triedText } from './asked.js';
import { luckOfSite, whatLuckIs } from './luck.js';
import { dialsText, figure, plural } from './wording.js';

/** A dial that changes no more than this share of visits with a notch, and no false trigger, hardly matters. */
const HARDLY = 0.025;
/** Visits below which one more or less is more than three points in a hundred. */
const FEW = 30;

/** The recommendation explained in plain sentences, one for each thing worth knowing. */
export function explain(result: SiteResult): string[] {
  const { recommended, allowance } = result;
  return [
    whatItDoes(recommended, allowance),
    luckOfSite(result),
    whatTheMaskDoes(result),
    whatItIgnores(result),
    whyNotTheBest(result),
    ...whichDialMatters(result),
    whatToExpect(result),
    whatToExpectOfTheMask(result),
    ...whatItRestsOn(result),
  ].filter((sentence) => sentence !== '');
}

function whatItDoes({ score }: Choice, allowance: SiteResult['allowance']): string {
  const rate = score.falsePerHour ? `, ${figure(score.falsePerHour.value)} an hour` : '';
  return `On these clips it catches ${score.caught} of ${plural(score.visits, 'visit')} and fires falsely ${plural(score.falseTriggers, 'time')}${rate}${limit(allowance)}.`;
}

/** The mask's corners, to draw it in the camera by, and what would be best without it. */
function whatTheMaskDoes({ mask }: SiteResult): string {
  if (!mask) return '';
  const { score, controls } = mask.withoutIt;
  const rate = score.falsePerHour ? `, ${figure(score.falsePerHour.value)} false triggers an hour` : '';
  const shapes = mask.polygons.map((shape) =>
    shape.map(([x, y]) => `${Math.round(100 * x)} ${Math.round(100 * y)}`).join(', '),
  );
  return `It is blind inside a mask of ${plural(shapes.length, 'shape')} (corners in % from the left and from the top: ${shapes.join('; ')}). Without a mask, ${dialsText(controls)} would be best: ${score.caught} of ${plural(score.visits, 'visit')}${rate}.`;
}

function limit(allowance: SiteResult['allowance']): string {
  if (!allowance) return '';
  const allowed = figure(allowance.falsePerHour);
  return allowance.kept
    ? `; ${allowed} an hour are allowed`
    : `; that is more than the ${allowed} an hour allowed, and no group of settings keeps to it here`;
}

function whatItIgnores({ front, recommended }: SiteResult): string {
  const most = front[0];
  const now = recommended.score.falsePerHour;
  if (!most?.falsePerHour || !now || most.falsePerHour <= now.value || most.recall === null) return '';
  const left = 1 - now.value / most.falsePerHour;
  return `Settings that catch ${percent(most.recall)} of the visits fire falsely ${figure(most.falsePerHour)} times an hour; these leave out ${percent(left)} of that.`;
}

function whyNotTheBest({ best, recommended, allowance }: SiteResult): string {
  const more = best.score.caught - recommended.score.caught;
  const fewer = recommended.score.falseTriggers - best.score.falseTriggers;
  if (more === 0 && fewer === 0) return '';
  const gains = [
    ...(more > 0 ? [`catch ${plural(more, 'visit')} more`] : []),
    ...(fewer > 0 ? [`fire falsely ${plural(fewer, 'time')} less`] : []),
  ];
  if (gains.length === 0) return '';
  if (more > 0 && (best.score.byLuck ?? 0) - (recommended.score.byLuck ?? 0) >= more) {
    return `${dialsText(best.controls)} would ${gains.join(' and ')} on these very clips, but only by luck: ${whatLuckIs}.`;
  }
  const would = `${dialsText(best.controls)} would ${gains.join(' and ')} on these very clips`;
  if (allowance !== null && allowance.sure !== null) {
    return `${would}, but it is less sure to keep to ${figure(allowance.falsePerHour)} an hour on others, or the settings around it catch less.`;
  }
  return `${would}, but the settings around it do worse: that is more likely luck than what is recommended.`;
}

function whichDialMatters({ notches, recommended, allowance }: SiteResult): string[] {
  const { score } = recommended;
  const names = [...new Set(notches.map((notch) => notch.dial))];
  const allowedHere = Math.max(1, (allowance?.falsePerHour ?? 0) * score.watchedHours);
  const weight = (of: Score) =>
    Math.abs(of.caught - score.caught) / Math.max(1, score.visits) +
    Math.abs(of.falseTriggers - score.falseTriggers) / allowedHere;
  const dialWeight = (name: string) =>
    Math.max(...notches.filter((notch) => notch.dial === name).map((notch) => weight(notch.score)));
  const most = [...names].sort((a, b) => dialWeight(b) - dialWeight(a))[0];
  if (most === undefined || dialWeight(most) === 0) return [];
  const turns = notches
    .filter((notch) => notch.dial === most)
    .map((notch) => `at ${notch.position} it would ${change(score, notch.score)}`);
  const better = notches.find(({ dial, score: there }) => dial === most && isBetter(there, score))?.position;
  const idle = names.filter((name) => dialWeight(name) <= HARDLY);
  return [
    `The dial that matters most is ${most}: ${turns.join('; ')}.`,
    ...(better === undefined
      ? []
      : [
          `On these clips alone ${better} would do better; what is chosen is expected to hold on others, and what just fits these seldom does.`,
        ]),
    ...(idle.length > 0
      ? [`One notch of ${list(idle)} changes next to nothing: leave ${idle.length > 1 ? 'them' : 'it'}.`]
      : []),
  ];
}

/** Whether nothing of it is worse, and something better. */
function isBetter(there: Score, here: Score): boolean {
  const caught = there.caught - here.caught;
  const spared = here.falseTriggers - there.falseTriggers;
  return caught >= 0 && spared >= 0 && caught + spared > 0;
}

function change(from: Score, to: Score): string {
  const caught = to.caught - from.caught;
  const fired = to.falseTriggers - from.falseTriggers;
  const visits =
    caught === 0 ? 'catch as many' : `catch ${plural(Math.abs(caught), 'visit')} ${moreOrLess(caught)}`;
  const times =
    fired === 0
      ? 'fire falsely as often'
      : `fire falsely ${plural(Math.abs(fired), 'time')} ${moreOrLess(fired)}`;
  return `${visits} and ${times}`;
}

function whatToExpect({ recommended: { score, unseen }, allowance }: SiteResult): string {
  const { recall, falsePerHour } = unseen;
  if (!recall) {
    return `How it will do on other footage is too little to tell. ${moreVisitsText({ score, unseen })}`;
  }
  const fired = falsePerHour
    ? `, and ${figure(falsePerHour.low)} to ${figure(falsePerHour.high)} false triggers an hour`
    : '';
  return `On as much footage again in like weather, expect ${percent(recall.low)} to ${percent(recall.high)} of visits caught${fired}: nine times in ten (${triedText({ allowance })}, ${unseen.how === 'blocks of time' ? 'a stretch of time' : 'one clip'} at a time).`;
}

/** What is foretold leaves the mask as it is; empty where there is none, or nothing is foretold. */
function whatToExpectOfTheMask({ mask, recommended, allowance }: SiteResult): string {
  if (!mask || recommended.unseen.recall === null) return '';
  if (allowance !== null && allowance.sure !== null) {
    return 'That a mask pays was tried on stretches of time that mask and settings were chosen without.';
  }
  return 'For what to expect, the settings were chosen anew each time, but the mask was not: it was chosen once, on all of the footage, so this is rather too hopeful. That a mask pays was tried on stretches of time that mask and settings were chosen without.';
}

function whatItRestsOn({ recommended, allowance }: SiteResult): string[] {
  const { visits, watchedHours } = recommended.score;
  const said: string[] = [];
  if (visits > 0 && visits < FEW) {
    said.push(
      `It rests on few visits: each one more or less is ${Math.round(100 / visits)} points in a hundred.`,
    );
  }
  if (!allowance) return said;
  const { sure, hoursToBeSure, reached } = allowance;
  const isLess = sure !== null && reached !== null && reached < sure - 1e-9;
  if (isLess) said.push(lessSureText(sure, reached, hoursToBeSure, watchedHours));
  const hours = hoursItTakes(allowance);
  if (hours === null) {
    said.push(
      'An allowance of none at all can never be shown to be kept: none seen in H hours still leaves up to 3/H an hour.',
    );
  } else if (!isLess && watchedHours < hours) {
    said.push(
      `An allowance of ${figure(allowance.falsePerHour)} an hour can be told only from ${figure(hours)} watched hours on (none seen in H hours still leaves up to 3/H an hour); here there are ${figure(watchedHours)}.`,
    );
  }
  return said;
}

/** Rounded down: nothing is to seem surer than it is. */
function lessSureText(sure: number, reached: number, needed: number | null, watchedHours: number): string {
  const about = `a probability of about ${Math.floor(100 * reached + 1e-9) / 100}`;
  return needed !== null && watchedHours < needed
    ? `To be sure of it with a probability of ${sure} takes about ${figure(needed)} watched hours without a false trigger; here there are ${figure(watchedHours)}. By this footage what is recommended keeps it with ${about}.`
    : `No settings are shown to keep it with a probability of ${sure}: by this footage what is recommended keeps it with ${about}.`;
}

function moreOrLess(n: number): string {
  return n > 0 ? 'more' : 'less';
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}

function list(names: readonly string[]): string {
  return names.length < 2 ? names.join() : `${names.slice(0, -1).join(', ')} or ${names.at(-1)}`;
}
