import { type Score, scoreOf } from '../score/score.js';
import type { Grid } from '../sweep/grid.js';
import { countsWithin, FEWEST_TOLD, type Off } from '../weather/off.js';
import { choiceAmong, plainChoice } from './choice-told.js';
import type { Goal } from './goal.js';
import { holdsWithin } from './holds.js';
import { poolOf } from './pool.js';
import { recommend } from './recommend.js';
import type { Choice, SiteResult, TunedClip } from './site-result.js';
import { FEWEST_TO_TELL } from './tells.js';
import type { Unseen } from './unseen.js';
import { adviseOnWeather, type SimulatedSweep, type WeatherGroup } from './weather.js';

/** What nobody recorded has not been seen at all: its score is all there is. */
const onlySimulated: Unseen = {
  how: 'too little to tell',
  recall: null,
  falsePerHour: null,
  moreVisits: FEWEST_TO_TELL,
};

/** The visits that what is known of a kind of weather shows, each once however many strengths were put onto it. */
export function visitsOf({ parts }: WeatherGroup): number {
  const each = new Set(parts.map(({ truth }) => truth.visits));
  return [...each].reduce((sum, visits) => sum + visits.length, 0);
}

/** @param rests left out: the choice may rest on what is known of such weather */
export function groupChoice(
  { condition, clips: names, source, parts, pool, setting, rests = true }: WeatherGroup & { rests?: boolean },
  clips: readonly TunedClip[],
  simulated: readonly SimulatedSweep[],
  grid: Grid,
  goal: Goal,
): SiteResult['byCondition'][number] {
  if (source === 'recorded') {
    const of = clips.filter((c) => c.conditions.includes(condition));
    return {
      condition,
      clips: names,
      source,
      choice: choiceAmong(of, pool, grid, goal)(setting, recommend),
    };
  }
  const unheld = letAllThrough(setting, grid);
  const sweeps = parts.flatMap((part) => simulated.find(({ counts }) => counts === part) ?? []);
  const strengths = sweeps.map(({ counts, strength, off = null }) => {
    const score = scoreOf(counts.at(setting));
    const tooFew = off !== null && score.falseTriggers < FEWEST_TOLD;
    return {
      strength,
      recall: score.recall?.value ?? null,
      falsePerHour: score.falsePerHour?.value ?? null,
      score,
      range: tooFew ? null : rangeOf(score, off),
      ...(tooFew && { tooFew }),
      ...(unheld !== null && { unheldPerHour: scoreOf(counts.at(unheld)).falsePerHour?.value ?? null }),
    };
  });
  return {
    condition,
    clips: names,
    source,
    choice: rests ? plainChoice(pool, setting, grid, onlySimulated) : null,
    strengths,
    holds:
      rests && strengths.some(({ range }) => range !== null)
        ? holdsWithin(setting, sweeps, grid, goal)
        : null,
  };
}

/** Between how many false triggers an hour those of such weather may lie. */
function rangeOf({ falseTriggers, watchedHours }: Score, off: Off | null) {
  if (!off || watchedHours === 0) return null;
  const { low, high } = countsWithin(falseTriggers, off);
  return { low: low / watchedHours, high: high / watchedHours, times: off };
}

/** The same setting, but that it fires however much of the picture changes; null without a dial for that. */
function letAllThrough(setting: number, grid: Grid): number | null {
  const dial = grid.dialSetting('mostChanged');
  const values = grid.dials[dial]?.values;
  if (!values) return null;
  return grid.turned(setting, dial, values.indexOf(Math.max(...values)) - grid.placeOf(setting, dial));
}

/** One setting for all weather that was recorded, against changing with it; null: there is one kind. */
export function adviceFor(
  groups: readonly WeatherGroup[],
  grid: Grid,
  goal: Goal,
  chosenUnder: (choice: Choice) => Choice,
): SiteResult['weather'] {
  if (groups.length < 2) return null;
  const { one, gain, worthIt } = adviseOnWeather(groups, grid, goal);
  const pool = poolOf([...new Set(groups.flatMap((g) => g.parts))]);
  const choice = chosenUnder(plainChoice(pool, one, grid, onlySimulated));
  return { one: choice, changing: gain, worthIt };
}
