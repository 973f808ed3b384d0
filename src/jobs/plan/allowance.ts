import { figure } from '../../base/figures.js';
import type { Evidence } from '../../plan/evidence.js';
import { type Kind, keyOfKind, kindText } from '../../plan/kind.js';
import type { PlanGoal } from '../../plan/plan-goal.js';
import { addCounts, scoreOf } from '../../score/score.js';
import { hoursToTell, keeps } from '../../tune/goal.js';

/** Whether what is advised keeps the allowance in the hours of every kind, on the footage that tells of it. */
export interface AllowanceKept {
  falsePerHour: number;
  /** Null: nothing breaks it, but of some hours it cannot be told. */
  kept: boolean | null;
}

/**
 * Holds what is advised in each hour against the allowance.
 * @param kinds of the hours, with the settings advised in each
 * @returns null: there is no allowance; with what should be known, a line each
 */
export function allowanceOver(
  kinds: readonly Kind[],
  advised: readonly number[],
  evidence: readonly Evidence[],
  goal: PlanGoal,
): { allowance: AllowanceKept | null; notes: string[] } {
  if (goal.kind === 'worth') return { allowance: null, notes: [] };
  const { falsePerHour } = goal;
  const broken = new Map<string, number>();
  const short = new Set<string>();
  const untold = new Set<string>();
  kinds.forEach((kind, hour) => {
    const of = evidence.find((one) => keyOfKind(one.kind) === keyOfKind(kind));
    if (!of) {
      // Where the camera is blind nothing is expected of it.
      if (kind.light !== 'too dark') untold.add(kindText(kind));
      return;
    }
    const { falseTriggers, watchedHours } = scoreOf(
      addCounts(of.parts.map(({ whole }) => whole.at(advised[hour]!))),
    );
    const name = `${kindText(kind)} (${of.source})`;
    if (!keeps(falseTriggers, 3600 * watchedHours, goal)) {
      broken.set(name, Math.max(broken.get(name) ?? 0, falseTriggers / watchedHours));
    }
    if (watchedHours < hoursToTell(goal)) short.add(name);
  });
  const names = [...broken].map(([name, rate]) => `${name}, ${figure(rate)} an hour`);
  const allowed = `${figure(falsePerHour)} false triggers an hour`;
  const needed = hoursToTell(goal);
  return {
    allowance: { falsePerHour, kept: broken.size > 0 ? false : short.size + untold.size > 0 ? null : true },
    notes: [
      ...(broken.size > 0
        ? [
            `More than ${allowed} in ${names.join('; ')}: no settings that can be in place then keep it on that footage.`,
          ]
        : []),
      ...(short.size > 0
        ? [
            `Whether ${allowed} are kept cannot be told of ${[...short].join('; ')}: ${Number.isFinite(needed) ? `it takes ${figure(needed)} watched hours of it` : 'none at all can never be shown to be kept'}.`,
          ]
        : []),
      ...(untold.size > 0
        ? [
            `Whether ${allowed} are kept cannot be told of ${[...untold].join('; ')}: that was neither recorded nor simulated here.`,
          ]
        : []),
    ],
  };
}
