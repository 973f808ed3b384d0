import { drawMask } from '../../camera/mask.js';
import { busyFor } from '../../camera/timing.js';
import type { Polygon } from '../../engine/mask.js';
import { CELLS } from '../../measure/pieces.js';
import type { ChangeMaps } from './change-maps.js';
import { type EffectOn, effectNow, type Labelled, proofOf } from './dials.js';
import { effectOn } from './effect.js';
import { activeUnder } from './mask-effect.js';
import { type Density, densityOf, hotFrames } from './mask-hot.js';
import { ALIKE, promisingMasks, type SearchPart } from './mask-search.js';
import { overlap, type Shape } from './mask-shapes.js';
import { byWorth, isProved, type Proof } from './proof.js';

/** A labelled clip with the maps of what changed in it. */
export interface Mapped extends Labelled {
  maps: ChangeMaps;
}

export interface MaskCure {
  /** What was masked before, and the new polygon last. */
  polygons: Polygon[];
  proof: Proof;
}

/** Masks offered at most: there is one picture, and a list of much the same places helps nobody. */
const MOST_OFFERED = 3;

/**
 * Masks over one place that cure false triggers, best first: sought on the one half of the footage, measured exactly by
 * replay from the change maps, and proved on the other half.
 *
 * @param clips of one place, under one group of settings
 */
export async function maskCures(clips: readonly Mapped[]): Promise<MaskCure[]> {
  const parts: SearchPart[] = [];
  const now: EffectOn[] = [];
  for (const { replayed, halved, maps } of clips) {
    const effect = await effectNow(replayed);
    now.push(effect);
    const part = halved.finding;
    if (part) parts.push({ replayed, part, hot: await hotFrames(replayed, maps, part), now: effect(part) });
  }
  const density = densityOf(parts);
  const found = promisingMasks(parts, density).filter((shape) => hidesNothing(shape, density));
  const before = polygonsOf(clips);
  const then: EffectOn[][] = found.map(() => []);
  for (const { replayed, maps } of clips) {
    const masks = found.map(({ polygon }) => drawMask([...before, polygon], replayed.camera) as Uint8Array);
    const { persistence, cooldown } = replayed.settings;
    (await activeUnder(replayed, maps, masks)).forEach((active, m) => {
      then[m]?.push((part) =>
        effectOn(part, (k) => active[k] === 1, persistence, busyFor(replayed.camera, cooldown)),
      );
    });
  }
  const measured = found.map((shape, m) => ({ shape, proof: proofOf(clips, now, then[m] as EffectOn[]) }));
  return pick(measured).map(({ shape, proof }) => ({ polygons: [...before, shape.polygon], proof }));
}

/** What is masked on any of the clips, each polygon once. */
function polygonsOf(clips: readonly Mapped[]): Polygon[] {
  const all = new Map(clips.flatMap(({ replayed }) => replayed.polygons.map((p) => [JSON.stringify(p), p])));
  return [...all.values()];
}

/** The best that are proved, none of them much like a better one, or larger than a better one and no better. */
function pick(measured: readonly { shape: Shape; proof: Proof }[]) {
  const kept: { shape: Shape; proof: Proof }[] = [];
  const order = [...measured]
    .filter(({ shape, proof }) => isProved(proof) && takesMoreThanItCovers(shape, proof))
    .sort((a, b) => byWorth(a.proof.whole, b.proof.whole) || a.shape.size - b.shape.size);
  for (const next of order) {
    const superseded = kept.some(
      ({ shape }) => shape.size <= next.shape.size || overlap(shape, next.shape) > ALIKE,
    );
    if (!superseded && kept.length < MOST_OFFERED) kept.push(next);
  }
  return kept;
}

/** Any mask takes away something: one that takes no larger a share of the false triggers than of the picture is no find. */
function takesMoreThanItCovers({ size }: Shape, { whole, proving }: Proof): boolean {
  return [whole, proving].every(
    ({ falseRemoved, falseTriggers }) => falseRemoved > (size / CELLS) * falseTriggers,
  );
}

/** How much larger the share of what fires falsely must be under a mask than that of where animals are. */
export const RATHER_NOTHING = 2;

/** Whether a mask lies clear of animals: where they come and go, one that has lost no visit yet may lose the next. */
export function hidesNothing({ cells }: Shape, { nothing, animals }: Density): boolean {
  const under = (share: Float64Array) => cells.reduce((sum, part, cell) => sum + part * share[cell]!, 0);
  return under(nothing) > RATHER_NOTHING * under(animals);
}
