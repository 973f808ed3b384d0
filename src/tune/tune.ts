import type { Settings } from '../camera/settings.js';
import { addCounts, type Counts, type Score, scoreOf } from '../score/score.js';
import { type Allowance, chooseBest, hoursToTell } from './choose.js';
import { type Condition, conditionNames } from './conditions.js';
import { front } from './front.js';
import type { Grid } from './grid.js';
import { notchesAround } from './notches.js';
import type { SweepCounts } from './sweep.js';

/** One group of settings, in engine values and in the camera's own dial positions, with how it did. */
export interface Choice {
  settings: Settings & { version: 1 };
  controls: Record<string, number>;
  score: Score;
  unseen: Unseen;
}

/** What may be expected on footage not seen. */
export interface Unseen {
  how: 'leave one clip out' | 'blocks of time' | 'too little to tell';
  recall: { value: number; low: number; high: number; n: number } | null;
  falsePerHour: { value: number; low: number; high: number; hours: number } | null;
  moreVisits: number;
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
export interface TunedClip {
  clip: string;
  conditions: Condition[];
  counts: SweepCounts;
}

/** Chooses among the settings of a swept grid over several clips; counts are pooled, so a long clip weighs more. */
export function tune(clips: readonly TunedClip[], grid: Grid, allowance: Allowance): TuneResult {
  const pooled = pool(clips.map((c) => c.counts));
  const best = chooseBest(grid.size, pooled, allowance);
  const choice = choiceAt(grid, best.setting, pooled);
  const needed = hoursToTell(allowance);
  return {
    searched: grid.size,
    allowance: {
      falsePerHour: allowance.falsePerHour,
      kept: best.kept,
      hoursNeeded: Number.isFinite(needed) ? needed : null,
    },
    best: choice,
    recommended: choice,
    byCondition: conditionNames.flatMap((condition) => {
      const of = clips.filter((c) => c.conditions.includes(condition));
      if (of.length === 0) return [];
      const counts = pool(of.map((c) => c.counts));
      const { setting } = chooseBest(grid.size, counts, allowance);
      return [
        {
          condition,
          clips: of.map((c) => c.clip),
          source: 'recorded' as const,
          choice: choiceAt(grid, setting, counts),
        },
      ];
    }),
    notches: notchesAround(grid, best.setting).map(({ dial, position, setting }) => ({
      dial,
      position,
      score: scoreOf(pooled(setting)),
    })),
    front: front(grid.size, pooled).map((setting) => {
      const score = scoreOf(pooled(setting));
      return {
        settings: savedSettings(grid, setting),
        recall: score.recall?.value ?? null,
        precision: score.precision?.value ?? null,
        falsePerHour: score.falsePerHour?.value ?? null,
      };
    }),
  };
}

function pool(all: readonly SweepCounts[]): (setting: number) => Counts {
  return (setting) => addCounts(all.map((counts) => counts.at(setting)));
}

function choiceAt(grid: Grid, setting: number, counts: (setting: number) => Counts): Choice {
  return {
    settings: savedSettings(grid, setting),
    controls: grid.controlsAt(setting),
    score: scoreOf(counts(setting)),
    unseen: { how: 'too little to tell', recall: null, falsePerHour: null, moreVisits: 0 },
  };
}

/** Engine values in the form of a settings file. */
function savedSettings(grid: Grid, setting: number): Choice['settings'] {
  return { version: 1, ...grid.settingsAt(setting) };
}
