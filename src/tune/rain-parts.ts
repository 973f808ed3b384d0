import { scoreOf } from '../score/score.js';
import { type RainPart, rainParts } from '../weather/rain/rain-part.js';
import { poolOf } from './pool.js';
import { isAsAssumed, type SimulatedSweep } from './weather.js';

/** Which part of simulated rain fires the camera: false triggers an hour at the settings advised for rain. */
export interface RainTold {
  /** mm/h. */
  strength: number;
  /** In all of it, and with none: what does not come of the rain. */
  falsePerHour: number | null;
  dry: number | null;
  /** By each part alone, and with all of it but that part. */
  parts: { part: RainPart; alone: number | null; without: number | null }[];
}

/** @returns null where parts of the rain were not tried */
export function rainTold(simulated: readonly SimulatedSweep[], setting: number): RainTold | null {
  const parted = simulated.filter(({ without }) => without !== undefined);
  const [first] = parted;
  if (!first) return null;
  const { strength } = first;
  const rate = (sweeps: readonly SimulatedSweep[]) =>
    sweeps.length === 0
      ? null
      : (scoreOf(poolOf(sweeps.map(({ counts }) => counts)).countsAt(setting)).falsePerHour?.value ?? null);
  const leaves = (out: (part: RainPart) => boolean) =>
    parted.filter(({ without }) => rainParts.every((part) => without!.includes(part) === out(part)));
  const alone = (part: RainPart) => leaves((other) => other !== part);
  const without = (part: RainPart) => leaves((other) => other === part);
  const tried = rainParts.filter((part) => alone(part).length + without(part).length > 0);
  return {
    strength,
    falsePerHour: rate(
      simulated.filter((s) => s.condition === 'rain' && s.strength === strength && isAsAssumed(s)),
    ),
    dry: rate(leaves(() => true)),
    parts: tried.map((part) => ({ part, alone: rate(alone(part)), without: rate(without(part)) })),
  };
}
