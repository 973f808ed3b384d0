import { figure, plural } from '../base/figures.js';
import { mostOfKind } from '../score/quiet.js';

/** Whether more labels are worth giving, in a word and a sentence. */
export function verdictWording(
  verdict: 'go on' | 'enough' | 'settled',
  worthOfAll: number,
  left: number,
): { word: string; why: string } {
  if (left === 0) return { word: 'All moments looked at', why: 'There is none left to ask about.' };
  if (verdict === 'settled') {
    return {
      word: 'Enough labelled',
      why: `Taking each of the ${plural(left, 'moment')} left as a visit of its own, whatever they turn out to be, the settings worth most stay the same.`,
    };
  }
  if (verdict === 'enough') {
    return {
      word: 'Enough labelled, most likely',
      why: `Going by what you found so far, the ${plural(left, 'moment')} left would hardly change the choice: all of them together are worth less than one photo of nothing. That is a rough reckoning; going on makes it surer.`,
    };
  }
  return {
    word: 'Worth going on',
    why: `Knowing what is left is worth about ${figure(Math.max(1, worthOfAll))} photos of nothing. Those that may change the choice most come first.`,
  };
}

/** What a sample of quiet stretches lets one conclude of all of them. */
export function quietWording({ all, seen, found }: { all: number; seen: number; found: number }): string {
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
export function missedWording(
  visits: number,
  { all, seen, found }: { all: number; seen: number; found: number },
): string | null {
  if (visits === 0 || all === seen) return null;
  const hidden = mostOfKind(all, seen, found) - found;
  if (hidden === 0) return null;
  const known = visits / (visits + hidden);
  return `The ${plural(visits, 'visit')} you marked may be as few as ${Math.round(100 * known)} % of all there were. A share of visits caught that is reckoned from moments alone flatters: it leaves out those that no setting sees.`;
}
