import type { Settings } from '../camera/settings.js';
import { scoreOf } from '../score/score.js';
import type { Grid } from '../sweep/grid.js';
import type { Goal } from './goal.js';
import type { Pool } from './pool.js';
import type { Choice, Swept } from './site-result.js';
import { type Chooser, type Unseen, unseenOf } from './unseen.js';

/** Tells of settings of the grid: the score on these clips, and what to expect on footage that nobody has seen. */
export function choiceAmong(clips: readonly Swept[], pool: Pool, grid: Grid, goal: Goal) {
  return (setting: number, choose: Chooser): Choice =>
    plainChoice(pool, setting, grid, unseenOf(clips, setting, grid, goal, choose));
}

export function plainChoice(pool: Pool, setting: number, grid: Grid, unseen: Unseen): Choice {
  return {
    settings: savedSettings(grid, setting),
    controls: grid.controlsAt(setting),
    score: scoreOf(pool.countsAt(setting)),
    unseen,
  };
}

/** Engine values in the form of a settings file. */
export function savedSettings(grid: Grid, setting: number): Settings & { version: 1 } {
  return { version: 1, ...grid.settingsAt(setting) };
}
