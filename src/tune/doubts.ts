import { scoreOf } from '../score/score.js';
import type { Grid } from '../sweep/grid.js';
import type { AssumptionName } from '../weather/assumptions.js';
import type { Condition } from '../weather/conditions.js';
import { type Goal, givenBy, isWithin } from './goal.js';
import { type Pool, poolOf } from './pool.js';
import { recommend } from './recommend.js';
import { isAsAssumed, type SimulatedSweep } from './weather.js';
import type { WeatherToTry } from './weather-to-try.js';

/** Recall (or worth, in visits) lost by keeping to advice that rests on a wrong figure, from which on the advice counts as another. */
const FLIPS_AT = 0.1;

/** What the advice for simulated weather would be, were one assumption half or twice what it is. */
export interface Doubted {
  condition: Condition;
  assumption: AssumptionName;
  times: number;
  /** Beaufort number, mm/h or lux. */
  strength: number;
  /** What would then be advised. */
  controls: Record<string, number>;
  /** Whether that is other advice; null: too few visits to rest advice for such weather on. */
  flips: boolean | null;
  /** Where it flips, whether it does so in a second drawing of chance as well; left out: not tried. */
  again?: boolean;
  /** In the sample that it was tried on. */
  visits: number;
  /** What the settings advised give less then than as assumed, by the goal, in visits; below 0 where they give more. */
  lost: number;
  /** How the settings advised as it stands do then, and how they do as assumed. */
  recall: number | null;
  falsePerHour: number | null;
  asAssumed: { recall: number | null; falsePerHour: number | null };
}

/** The setting advised for simulated weather, and whether enough visits carry advice of its own. */
export interface Advised {
  condition: Condition;
  setting: number;
  rests: boolean;
}

/**
 * Tries advised settings where one assumption is half or twice what it is, held against the same strength as assumed.
 * Advice is another where keeping to it would lose a tenth of the visits or break the allowance, and only in one of the two.
 */
export function doubtsAbout(
  { condition, setting: advised, rests }: Advised,
  simulated: readonly SimulatedSweep[],
  grid: Grid,
  goal: Goal,
): Doubted[] {
  const ofThis = simulated.filter((s) => s.condition === condition);
  const doubted = ofThis.filter((s) => s.doubt !== undefined);
  const names = [...new Set(doubted.map(({ doubt }) => doubt!.assumption))];
  return names.flatMap((assumption) => {
    const of = doubted.filter(({ doubt }) => doubt!.assumption === assumption);
    return [...new Set(of.map(({ doubt }) => doubt!.times))].map((times): Doubted => {
      const then = of.filter(({ doubt }) => doubt!.times === times);
      const { strength } = then[0]!;
      const pool = poolOf(then.map(({ counts }) => counts));
      const usual = poolOf(
        ofThis.filter((s) => isAsAssumed(s) && s.strength === strength).map(({ counts }) => counts),
      );
      return {
        condition,
        assumption,
        times,
        strength,
        controls: grid.controlsAt(recommend(pool, grid, goal).setting),
        flips: rests
          ? isBetterLeft(advised, pool, grid, goal) !== isBetterLeft(advised, usual, grid, goal)
          : null,
        visits: pool.visits,
        lost: givenBy(usual, advised, goal) - givenBy(pool, advised, goal),
        ...told(pool, advised),
        asAssumed: told(usual, advised),
      };
    });
  });
}

/** Of all that was tried, what a second drawing of chance needs to hold those doubts against that change the advice. */
export function toDrawAgain(doubts: readonly Doubted[], tried: readonly WeatherToTry[]): WeatherToTry[] {
  const flipping = doubts.filter(({ flips }) => flips === true);
  return tried.filter(
    ({ condition, strength, doubt, without }) =>
      without === undefined &&
      flipping.some(
        (of) =>
          of.condition === condition &&
          of.strength === strength &&
          (doubt === undefined || (doubt.assumption === of.assumption && doubt.times === of.times)),
      ),
  );
}

/** Doubts by one drawing of chance, with what a second says of those that change the advice. */
export function drawnAgain(doubts: readonly Doubted[], second: readonly Doubted[]): Doubted[] {
  return doubts.map((doubt) => {
    const { condition, assumption, times, flips } = doubt;
    const other = second.find(
      (of) => of.condition === condition && of.assumption === assumption && of.times === times,
    );
    return flips !== true || typeof other?.flips !== 'boolean' ? doubt : { ...doubt, again: other.flips };
  });
}

/** Whether other settings would do clearly better than those advised. */
export function isBetterLeft(advised: number, pool: Pool, grid: Grid, goal: Goal): boolean {
  const { setting, kept } = recommend(pool, grid, goal);
  const lost = (givenBy(pool, setting, goal) - givenBy(pool, advised, goal)) / Math.max(1, pool.visits);
  const breaks = kept && !isWithin(pool.falseTriggers[advised]!, pool.watchedSeconds, goal);
  return setting !== advised && (breaks || lost >= FLIPS_AT);
}

function told(pool: Pool, setting: number) {
  const { recall, falsePerHour } = scoreOf(pool.countsAt(setting));
  return { recall: recall?.value ?? null, falsePerHour: falsePerHour?.value ?? null };
}
