import type { Settings } from '../camera/settings.js';
import { type Score, scoreOf } from '../score/score.js';
import type { Grid } from '../sweep/grid.js';
import { choiceAmong, savedSettings } from './choice-told.js';
import { chooseBest } from './choose.js';
import { doubtsAbout } from './doubts.js';
import { front } from './front.js';
import { type Goal, hoursToTell } from './goal.js';
import type { MaskChoice } from './mask.js';
import { notchesAround } from './notches.js';
import { hoursToBeSure } from './overshoot.js';
import { poolOf } from './pool.js';
import { rainTold } from './rain-parts.js';
import { chanceReached, recommend } from './recommend.js';
import type { Choice, SiteResult, Swept, TunedClip } from './site-result.js';
import { FEWEST_FOR_ENOUGH, tellsOf } from './tells.js';
import { turnedBack } from './turn-back.js';
import { type Simulated, type WeatherGroup, weatherGroups } from './weather.js';
import { adviceFor, groupChoice, visitsOf } from './weather-told.js';

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
    front: front(pool).map((point) => ({
      settings: under(savedSettings(grid, point)),
      ...pointTold(scoreOf(pool.countsAt(point))),
    })),
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

/** A point of the front without its settings. */
function pointTold(score: Score): Omit<SiteResult['front'][number], 'settings'> {
  return {
    byLuck: score.byLuck,
    recall: score.recall?.value ?? null,
    precision: score.precision?.value ?? null,
    falsePerHour: score.falsePerHour?.value ?? null,
    byBouts: intervalByBouts(score),
  };
}

function intervalByBouts({ falsePerHour }: Score): SiteResult['front'][number]['byBouts'] {
  const between = falsePerHour && { ...falsePerHour, ...falsePerHour.bouts };
  return between && { low: between.low, high: between.high };
}
