import type { Between } from '../outing/between.js';
import { poissonRate } from '../score/intervals.js';
import { addCounts, scoreOf } from '../score/score.js';
import type { Grid } from '../sweep/grid.js';
import { type Chooser, expectUnseen } from '../tune/unseen.js';
import type { Coming, Evidence } from './evidence.js';
import type { PlanGoal } from './plan-goal.js';

/** What one setting does in hours of one kind, with 90 % intervals; null where it cannot be told. */
export interface Foretold {
  /** Share of the visits. */
  recall: Between | null;
  falsePerHour: Between | null;
  /** Photos of any kind. */
  photosPerHour: Between | null;
  /** A prediction for footage not seen; or as on the clips, for too little is there to foretell from. */
  how: 'foretold' | 'as on the clips';
}

const cannotTell: Foretold = {
  recall: null,
  falsePerHour: null,
  photosPerHour: null,
  how: 'as on the clips',
};

/**
 * What to expect of a setting in hours of a kind: recorded weather as tuning foretells it for footage not seen, however wide that
 * is, for what it does on the clips that it was chosen on would be too good; where nothing can be left out, and always of simulated weather, as on the clips, with the interval of the counts there.
 * @param evidence null: nothing is known of such hours
 * @param choose how the setting was chosen from this evidence: it is then chosen anew without what it is tried on; null: from
 * other evidence
 */
export function foretell(
  evidence: Evidence | null,
  setting: number,
  choose: Chooser | null,
  { coming, grid, goal }: { coming: Coming; grid: Grid; goal: PlanGoal },
): Foretold {
  if (!evidence) return cannotTell;
  const { parts, source } = evidence;
  const score = scoreOf(addCounts(parts.map(({ whole }) => whole.at(setting))));
  const unseen =
    source === 'recorded' ? expectUnseen(parts, setting, grid, goal, choose ?? (() => ({ setting }))) : null;
  const recall = between(unseen?.recall ?? score.recall);
  const falsePerHour = between(
    unseen?.falsePerHour ?? (score.falsePerHour && { ...score.falsePerHour, ...score.falsePerHour.bouts }),
  );
  const each = score.caught === 0 ? 0 : score.trueTriggers / score.caught;
  return {
    recall,
    falsePerHour,
    photosPerHour: falsePerHour && photosOf(falsePerHour, recall, each, coming, goal.photosPerTrigger),
    how: unseen ? 'foretold' : 'as on the clips',
  };
}

/**
 * Photos an hour: those of nothing, and those at visits, as often as animals came while it was recorded. The ends are added as
 * if they came together, so that they are rather too far apart.
 */
function photosOf(
  nothing: Between,
  recall: Between | null,
  each: number,
  { visits, hours }: Coming,
  photosPerTrigger: number,
): Between {
  const come = poissonRate(visits, hours) ?? { value: 0, low: 0, high: 0 };
  const at = (end: keyof Between) =>
    photosPerTrigger * (nothing[end] + each * come[end] * (recall?.[end] ?? 0));
  return { value: at('value'), low: at('low'), high: at('high') };
}

function between(of: Between | null): Between | null {
  return of && { value: of.value, low: of.low, high: of.high };
}

/** Hours in which one setting was in force and one kind of weather was foretold. */
export interface Spent {
  hours: number;
  foretold: Foretold;
}

/** Of some hours together: the share caught by hours, and photos of nothing in all; hours that cannot be told are left out, and counted. */
export interface Together {
  recall: Between | null;
  falsePerHour: Between | null;
  /** Over the hours told. */
  photosOfNothing: Between | null;
  hoursTold: number;
  hoursNotTold: number;
}

/** The ends are added as if they came together, so that they are rather too far apart. */
export function together(spent: readonly Spent[], photosPerTrigger: number): Together {
  const meanOf = (of: 'recall' | 'falsePerHour') => {
    const told = spent.flatMap(({ hours, foretold }) => {
      const value = foretold[of];
      return value ? [{ hours, value }] : [];
    });
    const all = told.reduce((sum, { hours }) => sum + hours, 0);
    if (all === 0) return null;
    const mean = (end: keyof Between) =>
      told.reduce((sum, { hours, value }) => sum + hours * value[end], 0) / all;
    return { value: mean('value'), low: mean('low'), high: mean('high') };
  };
  const hoursIn = (isTold: boolean) =>
    spent.reduce(
      (sum, { hours, foretold }) => sum + ((foretold.falsePerHour !== null) === isTold ? hours : 0),
      0,
    );
  const falsePerHour = meanOf('falsePerHour');
  const hoursTold = hoursIn(true);
  const photos = (x: number) => x * hoursTold * photosPerTrigger;
  return {
    recall: meanOf('recall'),
    falsePerHour,
    photosOfNothing: falsePerHour && {
      value: photos(falsePerHour.value),
      low: photos(falsePerHour.low),
      high: photos(falsePerHour.high),
    },
    hoursTold,
    hoursNotTold: hoursIn(false),
  };
}
