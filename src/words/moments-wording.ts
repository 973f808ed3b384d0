import { figure, plural } from '../base/figures.js';
import { mostOfKind } from '../score/quiet.js';

/** A sample of quiet stretches, and what was found in it. */
interface Looked {
  all: number;
  seen: number;
  found: number;
}

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
    why: `Knowing what is left is worth about ${figure(Math.max(1, worthOfAll))} photos of nothing. Those that may change the choice most come first.`,
  };
}

/** What came of stopping where it was tried, on the six drawn clips of the demo: see `Asked.verdict` in tune/moments/ask.ts. */
const MEASURED = {
  settled: 'on one of the six drawn clips of the demo stopping here cost as much as 4 photos of nothing.',
  enough:
    'on the six drawn clips of the demo stopping here cost nothing on three, and as much as 4 photos of nothing on three.',
};

/** What is still open about visits that no moment shows. */
function hiddenWording({ all, seen, found }: Looked): string {
  if (all === seen)
    return 'All quiet stretches are looked through too, so that the share of visits caught holds as well.';
  if (seen === 0) {
    return 'For the share of visits caught it is not enough: no quiet stretch was looked through yet, so nobody knows how many visits no moment shows.';
  }
  const hidden = mostOfKind(all, seen, found) - found;
  return hidden === 0
    ? 'Quiet stretches leave no room for visits that no moment shows, so that the share of visits caught holds as well.'
    : `The share of visits caught may still flatter: up to ${plural(hidden, 'visit')} that no moment shows may be left (upper end of the 90 % interval).`;
}

/** What a sample of quiet stretches lets one conclude of all of them. */
export function quietWording({ all, seen, found }: Looked): string {
  if (all === 0) return 'There are no quiet stretches: something stirs all the time.';
  const looked = `You looked through ${seen} of ${plural(all, 'quiet stretch', 'quiet stretches')}`;
  if (seen === 0) {
    return `${looked}, so nothing can be said yet of visits in which too little moves to show up among the moments.`;
  }
  const held = `${looked} and found an animal in ${found === 0 ? 'none' : found}`;
  if (seen === all) return `${held}. That is all of them, so no visit is left to be found there.`;
  const most = mostOfKind(all, seen, found);
  const share = Math.round((100 * most) / all);
  return `${held}. So at most ${share} % of them hold one (upper end of the 90 % interval): up to ${plural(most - found, 'visit')} that no moment shows may be left among the ${all - seen} that nobody looked through.`;
}

/** What the share of visits caught is worth, seen that visits may be hidden in quiet stretches. */
export function missedWording(visits: number, { all, seen, found }: Looked): string | null {
  if (visits === 0 || all === seen) return null;
  const hidden = mostOfKind(all, seen, found) - found;
  if (hidden === 0) return null;
  const known = visits / (visits + hidden);
  return `The ${plural(visits, 'visit')} you marked may be as few as ${Math.round(100 * known)} % of all there were. A share of visits caught that is reckoned from moments alone flatters: it leaves out those that no setting sees.`;
}
