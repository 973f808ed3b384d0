import type { Settings } from '../camera/settings.js';
import { type Score, scoreOf } from '../score/score.js';
import type { Grid } from '../sweep/grid.js';
import { countsWithin, FEWEST_TOLD, type Off } from '../weather/off.js';
import { chooseBest } from './choose.js';
import { doubtsAbout } from './doubts.js';
import { front } from './front.js';
import { type Goal, hoursToTell } from './goal.js';
import { holdsWithin } from './holds.js';
import type { MaskChoice } from './mask.js';
import { notchesAround } from './notches.js';
import { hoursToBeSure } from './overshoot.js';
import { type Pool, poolOf } from './pool.js';
import { rainTold } from './rain-parts.js';
import { chanceReached, recommend } from './recommend.js';
import type { Choice, SiteResult, Swept, TunedClip } from './site-result.js';
import { FEWEST_FOR_ENOUGH, FEWEST_TO_TELL, tellsOf } from './tells.js';
import { turnedBack } from './turn-back.js';
import { type Chooser, type Unseen, unseenOf } from './unseen.js';
import {
  adviseOnWeather,
  type Simulated,
  type SimulatedSweep,
  type WeatherGroup,
  weatherGroups,
} from './weather.js';

export type { Unseen } from './unseen.js';

/**
 * Chooses among the settings of a swept grid over the clips of one site; counts are pooled, so a long clip weighs more. With a
 * new mask all is said under it, but the best and what to use without it.
 * @param simulations under the new mask, if there is one
 * @param masked the mask to add, and the setting under it
 */
export function tuneSite(
  site: string | null,
  clips: readonly TunedClip[],
  grid: Grid,
  goal: Goal,
  simulations: readonly Simulated[] = [],
  masked: MaskChoice<Swept> | null = null,
): SiteResult {
  const simulated = simulations.flatMap((s) => s.sweeps);
  const judged = recordedOf(clips);
  const bare = poolOf(judged.map((c) => c.whole));
  const { setting: bareSetting, best, kept } = recommend(bare, grid, goal);
  const unsure = withoutSure(goal);
  const withoutIt = choiceAmong(judged, bare, grid, goal)(bareSetting, recommend);
  const seen = masked ? clips.map((clip, c) => ({ ...clip, ...masked.mask.clips[c]! })) : clips;
  const pool = masked ? poolOf(recordedOf(seen).map((c) => c.whole)) : bare;
  const setting = masked?.setting ?? bareSetting;
  const under = <S extends Settings>(settings: S) =>
    masked ? { ...settings, mask: masked.mask.mask } : settings;
  const chosenUnder = (choice: Choice): Choice => ({ ...choice, settings: under(choice.settings) });
  // With a new mask, what is expected on unseen footage is with settings chosen anew without each unit, but with this mask.
  const recommended = masked
    ? chosenUnder(choiceAmong(recordedOf(seen), pool, grid, goal)(setting, recommend))
    : withoutIt;
  const groups = weatherGroups(seen, simulated, grid, unsure).map((group) => ({
    ...group,
    setting: turnedBack(group.setting, setting, group.parts, grid),
  }));
  const rests = (group: WeatherGroup) => group.source === 'recorded' || visitsOf(group) >= FEWEST_FOR_ENOUGH;
  // What is simulated with too few visits is told at the settings recommended.
  const advised = groups
    .filter(({ source }) => source === 'simulated')
    .map((group) => ({
      condition: group.condition,
      setting: rests(group) ? group.setting : setting,
      rests: rests(group),
    }));
  return {
    site,
    clips: clips.map(({ clip }) => clip),
    tells: tellsOf(pool.visits, recommended.unseen),
    searched: grid.size,
    allowance:
      goal.kind === 'allowance' ? allowanceTold(goal, kept, chanceReached(pool, grid, setting, goal)) : null,
    worth: goal.kind === 'worth' ? { photos: goal.photos } : null,
    best: choiceAmong(judged, bare, grid, unsure)(best, (seen, _, wanted) => chooseBest(seen, wanted)),
    recommended,
    mask: masked && { polygons: masked.mask.polygons, withoutIt, provedOn: 'footage left out' },
    byCondition: groups.map((group) => {
      const of = rests(group) ? group : { ...group, setting, rests: false };
      const told = groupChoice(of, seen, simulated, grid, unsure);
      return { ...told, choice: told.choice && chosenUnder(told.choice) };
    }),
    weather: adviceFor(
      groups.filter(({ source }) => source === 'recorded'),
      grid,
      unsure,
      chosenUnder,
    ),
    advised,
    doubts: advised.flatMap((group) => doubtsAbout(group, simulated, grid, unsure)),
    rain: rainTold(simulated, advised.find(({ condition }) => condition === 'rain')?.setting ?? setting),
    simulations: simulations.map(({ sweeps: _, ...rest }) => rest),
    notches: notchesAround(grid, setting).map((notch) => ({
      dial: notch.dial,
      position: notch.position,
      score: scoreOf(pool.countsAt(notch.setting)),
    })),
    front: front(pool).map((point) => {
      const score = scoreOf(pool.countsAt(point));
      return {
        settings: under(savedSettings(grid, point)),
        byLuck: score.byLuck,
        recall: score.recall?.value ?? null,
        precision: score.precision?.value ?? null,
        falsePerHour: score.falsePerHour?.value ?? null,
        byBouts: intervalByBouts(score),
      };
    }),
  };
}

/**
 * The clips that a choice for all weather rests on: those that were recorded, or all where none was. One that is simulated holds
 * the visits of a recording once more, which are no more evidence.
 */
export function recordedOf<C extends { simulated: boolean }>(clips: readonly C[]): readonly C[] {
  const recorded = clips.filter((clip) => !clip.simulated);
  return recorded.length > 0 ? recorded : clips;
}

/** How surely an allowance is to be kept binds what is recommended for all weather, nothing else. */
export function withoutSure(goal: Goal): Goal {
  return goal.kind === 'allowance' ? { kind: goal.kind, falsePerHour: goal.falsePerHour } : goal;
}

function allowanceTold(
  { falsePerHour, sure = null }: { falsePerHour: number; sure?: number | null },
  kept: boolean,
  reached: number | null,
): SiteResult['allowance'] {
  const needed = hoursToTell({ falsePerHour });
  const toBeSure = sure === null ? null : finite(hoursToBeSure(falsePerHour, sure));
  return { falsePerHour, kept, hoursNeeded: finite(needed), sure, hoursToBeSure: toBeSure, reached };
}

function finite(hours: number): number | null {
  return Number.isFinite(hours) ? hours : null;
}

function choiceAmong(clips: readonly Swept[], pool: Pool, grid: Grid, goal: Goal) {
  return (setting: number, choose: Chooser): Choice =>
    plainChoice(pool, setting, grid, unseenOf(clips, setting, grid, goal, choose));
}

/** What nobody recorded has not been seen at all: its score is all there is. */
const onlySimulated: Unseen = {
  how: 'too little to tell',
  recall: null,
  falsePerHour: null,
  moreVisits: FEWEST_TO_TELL,
};

/** The visits that what is known of a kind of weather shows, each once however many strengths were put onto it. */
function visitsOf({ parts }: WeatherGroup): number {
  const each = new Set(parts.map(({ truth }) => truth.visits));
  return [...each].reduce((sum, visits) => sum + visits.length, 0);
}

function groupChoice(
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

function adviceFor(
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

function intervalByBouts({ falsePerHour }: Score): SiteResult['front'][number]['byBouts'] {
  const between = falsePerHour && { ...falsePerHour, ...falsePerHour.bouts };
  return between && { low: between.low, high: between.high };
}

function plainChoice(pool: Pool, setting: number, grid: Grid, unseen: Unseen): Choice {
  return {
    settings: savedSettings(grid, setting),
    controls: grid.controlsAt(setting),
    score: scoreOf(pool.countsAt(setting)),
    unseen,
  };
}

/** Engine values in the form of a settings file. */
function savedSettings(grid: Grid, setting: number): Settings & { version: 1 } {
  return { version: 1, ...grid.settingsAt(setting) };
}
