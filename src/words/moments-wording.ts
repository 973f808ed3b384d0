import { figure, plural } from '../base/figures.js';
import { mostOfKind } from '../score/quiet.js';
import type { Looked } from '../score/quiet-stretches.js';

/**
 * Whether more labels are worth giving, in a word and sentences: for the choice of settings, which moments alone tell, for what
 * no setting fires at changes none; and for the share of visits caught, which quiet stretches tell too.
 * @param left moments that nobody answered
 */
export function verdictWording(
  verdict: 'go on' | 'enough' | 'settled',
  worthOfAll: number,
  left: number,
  looked: Looked,
): { word: string; why: string } {
  if (left === 0) {
    return {
      word: 'All moments looked at',
      why: `There is none left to ask about. ${hiddenWording(looked)}`,
    };
  }
  if (verdict === 'settled') {
    return {
      word: 'Enough labelled to choose by',
      why: `Taking each of the ${plural(left, 'moment')} left as a visit of its own, whatever they turn out to be, the settings worth most stay the same. Moments close together may be one visit, which is not reckoned with: ${MEASURED.settled} ${hiddenWording(looked)}`,
    };
  }
  if (verdict === 'enough') {
    return {
      word: 'Enough labelled to choose by, most likely',
      why: `Going by what you found so far, the ${plural(left, 'moment')} left would hardly change the choice: all of them together are expected to be worth less than one photo of nothing. That is a rough reckoning, and a hopeful one: ${MEASURED.enough} Going on makes it surer. ${hiddenWording(looked)}`,
    };
  }
  return {
    word: 'Worth going on',
    why: `The ${plural(left, 'moment')} left may still change which settings are best: choosing once they are answered would on average do better by about ${figure(Math.max(1, worthOfAll))} photos of nothing on this clip, visits counted in. Those that may change the choice most come first.`,
  };
}

/** What came of stopping where it was tried, on the six drawn clips of the demo: see `Asked.verdict` in tune/moments/ask.ts. */
const MEASURED = {
  settled: 'on one of the six drawn clips of the demo stopping here cost as much as 4 photos of nothing.',
  enough:
    'on the six drawn clips of the demo stopping here cost nothing on three, and as much as 4 photos of nothing on three.',
};

/** What is still open about visits that no moment shows. */
function hiddenWording(looked: Looked): string {
  if (looked.all === looked.seen)
    return 'All quiet stretches are looked through too, so that the share of visits caught holds as well.';
  if (looked.drawn === 0) {
    return 'For the share of visits caught it is not enough: no quiet stretch was looked through as drawn yet, so nobody knows how many visits no moment shows.';
  }
  const hidden = hiddenIn(looked);
  return hidden === 0
    ? 'Quiet stretches leave no room for visits that no moment shows, so that the share of visits caught holds as well.'
    : `The share of visits caught may still flatter: up to ${plural(hidden, 'quiet stretch', 'quiet stretches')} may hold visits that no moment shows (upper end of the 90 % interval).`;
}

/** What a sample of quiet stretches lets one conclude of all of them. */
export function quietWording(looked: Looked): string {
  const { all, seen, found, drawn, foundInDrawn } = looked;
  if (all === 0) return 'There are no quiet stretches: something stirs all the time.';
  const total = plural(all, 'quiet stretch', 'quiet stretches');
  if (seen === 0) {
    return `You looked through 0 of ${total}, so nothing can be said yet of visits in which too little moves to show up among the moments.`;
  }
  if (seen === all) {
    return `You looked through all ${total}, and an animal was in ${none(found)}: no visit is left to be found there.`;
  }
  const rest = seen - drawn;
  const others =
    rest === 0
      ? ''
      : ` ${plural(rest, 'other stretch', 'other stretches')} you saw for other reasons ${rest === 1 ? 'is' : 'are'} no sample drawn at random, and ${rest === 1 ? 'is' : 'are'} left out of this.`;
  if (drawn === 0) {
    return `You looked through ${seen} of ${total}, but none as drawn here, so nothing can be said yet of the others.`;
  }
  const most = mostOfKind(all, drawn, foundInDrawn);
  const share = Math.round((100 * most) / all);
  return `As drawn at random you looked through ${drawn} of ${total}, and an animal was in ${none(foundInDrawn)}. So at most ${share} % of the stretches hold one (upper end of the 90 % interval): up to ${hiddenIn(looked)} of the ${all - seen} that nobody looked through. This counts stretches, not visits: one may hold several. It holds where you settle beforehand how many to look through, and do not stop because of what you found.${others}`;
}

function none(found: number): string {
  return found === 0 ? 'none of them' : `${found} of them`;
}

/** The most stretches with an animal among those that nobody looked through. */
function hiddenIn({ all, seen, found, drawn, foundInDrawn }: Looked): number {
  return Math.max(0, Math.min(all - seen, mostOfKind(all, drawn, foundInDrawn) - found));
}

/** What the share of visits caught is worth, seen that visits may be hidden in quiet stretches. */
export function missedWording(visits: number, looked: Looked): string | null {
  if (visits === 0 || looked.all === looked.seen || looked.drawn === 0) return null;
  const hidden = hiddenIn(looked);
  if (hidden === 0) return null;
  const known = Math.round((100 * visits) / (visits + hidden));
  return `Were there a visit in each of these ${hidden}, the ${plural(visits, 'visit')} you marked would be ${known} % of all there were. A share of visits caught that is reckoned from moments alone flatters: it leaves out those that no setting sees.`;
}
