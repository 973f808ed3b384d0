import type { EquallyGood, Span } from './choice/as-good.js';
import type { Explained } from './choice/explained.js';

/** Below so many fired times any description may explain them by luck. */
export const FEWEST = 10;

/**
 * How many of the fired times came after a pause: the others came as soon as the camera could fire again, as those of any camera do
 * under which something never stops, and tell of its cooldown alone.
 * @param times rising, seconds
 * @param cooldown seconds
 * @param slack seconds that nobody can tell apart
 */
export function afterPause(times: ArrayLike<number>, cooldown: number, slack: number): number {
  const all = Array.from(times);
  return all.filter((time, i) => i === 0 || time - all[i - 1]! > cooldown + slack).length;
}

/** Of the smaller end, by which a span is wide enough to matter. */
const WIDE = 1.5;
/**
 * The same for threshold and minimum area, of which a little may decide on another recording. Chosen on 24 drawn cameras: the 14 that were
 * pinned down more narrowly came to 0.95 on the other film, of the ten others five. It is not judged by them; of the cameras drawn since
 * for that one was told apart, and came to it (tests/evaluate/RESULTS.md).
 */
const NARROW = 1.15;

const isWide = ({ from, to }: Span, by: number) => to > Math.max(by * from, from + 1);

/**
 * Whether the fired times leave one description, and of its threshold, minimum area and cooldown hardly more than one value, looked
 * through to where those that do as well end: then it may be expected to fire as the camera does elsewhere too.
 */
export function isToldApart(equallyGood: readonly EquallyGood[]): boolean {
  const [only] = equallyGood;
  return (
    only !== undefined &&
    equallyGood.length === 1 &&
    !only.atLeast &&
    !isWide(only.threshold, NARROW) &&
    !isWide(only.minimumArea, NARROW) &&
    !isWide(only.cooldown, NARROW)
  );
}

/**
 * Which recording would tell apart what explains the fired times equally well, in sentences; null where nothing stands
 * beside the best.
 */
export function whatToRecord({
  equallyGood,
  fired,
  paused,
}: Pick<Explained, 'equallyGood'> & { fired: number; paused: number }): string | null {
  const ways = waysToTell(equallyGood);
  const more =
    fired < FEWEST
      ? [`Record longer: until it has fired some ${3 * FEWEST} times, at what usually comes.`]
      : paused < FEWEST
        ? ['Record when less stirs, or with duller dials, so that it falls silent between two visits.']
        : [];
  const all = [...more, ...ways];
  return all.length === 0 ? null : all.join(' ');
}

function waysToTell(equallyGood: readonly EquallyGood[]): string[] {
  const differ = (of: (one: EquallyGood) => unknown) => new Set(equallyGood.map(of)).size > 1;
  const wide = (of: (one: EquallyGood) => Span, by: number) => {
    const from = Math.min(...equallyGood.map((one) => of(one).from));
    const to = Math.max(...equallyGood.map((one) => of(one).to));
    return equallyGood.length > 0 && isWide({ from, to }, by);
  };
  const ways: string[] = [];
  if (differ(({ look }) => look.reference.kind)) {
    ways.push(
      'Something that comes, stays still for half a minute and goes (a box put down and taken away again) would tell an earlier frame from an average.',
    );
  } else if (differ(({ look }) => JSON.stringify(look.reference))) {
    ways.push(
      'Something that moves very slowly, and something that stops after a quick move, would tell how far back it compares.',
    );
  }
  if (differ(({ look }) => look.whileBusy)) {
    ways.push(
      'Something that is put down just when it has fired, and stays, with a quiet stretch after it, would tell what its reference does while it is busy.',
    );
  }
  if (differ(({ look }) => look.width * look.height) || differ(({ look }) => look.smooth)) {
    ways.push('Small things with sharp edges, near and far, would tell the analysis size and the smoothing.');
  }
  if (differ(({ area }) => area)) {
    ways.push(
      'Several small things moving at once, far from each other, would tell whether it counts one region or all that changed.',
    );
  }
  if (
    wide(({ threshold }) => threshold, NARROW) ||
    wide(({ minimumArea }) => minimumArea, NARROW) ||
    equallyGood.some(({ atLeast }) => atLeast)
  ) {
    ways.push(
      'Things of several sizes, some pale and some dark against the ground, would narrow threshold and minimumArea.',
    );
  }
  // What does as well stands apart for each persistence, which then is one number.
  if (differ(({ persistence }) => persistence.from)) {
    ways.push('Things that dart through in one, two and three frames would tell its persistence.');
  }
  if (wide(({ cooldown }) => cooldown, WIDE)) {
    ways.push('Something that moves on and on for some minutes would tell its cooldown.');
  }
  return ways;
}
