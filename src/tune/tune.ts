import type { Settings } from '../camera/settings.js';
import { type Score, scoreOf } from '../score/score.js';
import { type Allowance, chooseBest, hoursToTell } from './choose.js';
import { type Condition, conditionNames } from './conditions.js';
import { front } from './front.js';
import type { Grid } from './grid.js';
import { notchesAround } from './notches.js';
import { type Pool, poolOf } from './pool.js';
import type { Swept } from './read.js';
import { recommend } from './recommend.js';
import { type Chooser, type Unseen, unseenOf } from './unseen.js';

export type { Unseen } from './unseen.js';

/** One group of settings, in engine values and in the camera's own dial positions, with how it did. */
export interface Choice {
  settings: Settings & { version: 1 };
  controls: Record<string, number>;
  score: Score;
  unseen: Unseen;
}

export interface TuneResult {
  searched: number;
  allowance: { falsePerHour: number; kept: boolean; hoursNeeded: number | null };
  best: Choice;
  recommended: Choice;
  byCondition: { condition: Condition; clips: string[]; source: 'recorded'; choice: Choice }[];
  notches: { dial: string; position: number; score: Score }[];
  front: {
    settings: Choice['settings'];
    recall: number | null;
    precision: number | null;
    falsePerHour: number | null;
  }[];
}

/** A swept clip as tuning sees it. */
export interface TunedClip extends Swept {
  clip: string;
  conditions: Condition[];
}

/** Chooses among the settings of a swept grid over several clips; counts are pooled, so a long clip weighs more. */
export function tune(clips: readonly TunedClip[], grid: Grid, allowance: Allowance): TuneResult {
  const pool = poolOf(clips.map((c) => c.whole));
  const { setting, best, kept } = recommend(pool, grid, allowance);
  const needed = hoursToTell(allowance);
  const choiceFrom = choiceAmong(clips, pool, grid, allowance);
  return {
    searched: grid.size,
    allowance: {
      falsePerHour: allowance.falsePerHour,
      kept,
      hoursNeeded: Number.isFinite(needed) ? needed : null,
    },
    best: choiceFrom(best, (seen, _, allowed) => chooseBest(seen, allowed)),
    recommended: choiceFrom(setting, recommend),
    byCondition: conditionNames.flatMap((condition) => {
      const of = clips.filter((c) => c.conditions.includes(condition));
      if (of.length === 0) return [];
      const counts = poolOf(of.map((c) => c.whole));
      const chosen = recommend(counts, grid, allowance).setting;
      const choice = choiceAmong(of, counts, grid, allowance)(chosen, recommend);
      return [{ condition, clips: of.map((c) => c.clip), source: 'recorded' as const, choice }];
    }),
    notches: notchesAround(grid, setting).map((notch) => ({
      dial: notch.dial,
      position: notch.position,
      score: scoreOf(pool.countsAt(notch.setting)),
    })),
    front: front(pool).map((point) => {
      const score = scoreOf(pool.countsAt(point));
      return {
        settings: savedSettings(grid, point),
        recall: score.recall?.value ?? null,
        precision: score.precision?.value ?? null,
        falsePerHour: score.falsePerHour?.value ?? null,
      };
    }),
  };
}

function choiceAmong(clips: readonly Swept[], pool: Pool, grid: Grid, allowance: Allowance) {
  return (setting: number, choose: Chooser): Choice => ({
    settings: savedSettings(grid, setting),
    controls: grid.controlsAt(setting),
    score: scoreOf(pool.countsAt(setting)),
    unseen: unseenOf(clips, setting, grid, allowance, choose),
  });
}

/** Engine values in the form of a settings file. */
function savedSettings(grid: Grid, setting: number): Choice['settings'] {
  return { version: 1, ...grid.settingsAt(setting) };
}
