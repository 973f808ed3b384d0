import type { Camera } from '../../camera/description.js';
import { floorFor } from '../../camera/floor.js';
import { keepsEvidence } from '../../camera/keeps-evidence.js';
import { drawMask } from '../../camera/mask.js';
import type { LabelledClip } from '../../clip/labelled.js';
import type { Polygon } from '../../engine/mask.js';
import { evidenceUnder } from '../../measure/evidence.js';
import { lowestLevel } from '../../sweep/for-camera.js';
import type { Grid } from '../../sweep/grid.js';
import type { Goal } from '../../tune/goal.js';
import type { MaskSweep } from '../../tune/mask.js';
import { poolOf } from '../../tune/pool.js';
import type { Swept } from '../../tune/site-result.js';
import { FEWEST_TO_TELL } from '../../tune/tells.js';
import type { OpenPorts } from '../ports.js';
import { candidatesOf } from './mask-candidates.js';
import { type Parts, partsOf, sweepEvidence } from './sweep-clip.js';

/**
 * The site under each mask that promises something, replayed under every setting; none where masks cannot be tried (the
 * reference depends on the triggers) or nothing could be told. Costs one reading, of all masks side by side: they are found from
 * what was noted when the clips were first read. What was found and measured once is kept.
 * @param clips of one site, which all see the same picture
 * @param swept the same, under what the owner masks
 */
export async function sweepMasks(
  clips: readonly LabelledClip[],
  swept: readonly Swept[],
  camera: Camera,
  grid: Grid,
  goal: Goal,
  ports: OpenPorts,
): Promise<MaskSweep<Swept>[]> {
  const all = poolOf(swept.map(({ whole }) => whole));
  if (!keepsEvidence(camera) || all.visits < FEWEST_TO_TELL) return [];
  if (all.falseTriggers.every((n) => n === 0)) return [];
  const parts = clips.map((clip) => partsOf(clip, camera));
  // What there is to be said of a recording was said when it was first read.
  const { onWarning: _, ...reading } = ports;
  const found = await candidatesOf(clips, parts, camera, grid, goal, reading);
  if (found.length === 0) return [];
  const before = ownMask(clips);
  const masks = found.map(({ polygons }) => [...before, ...polygons]);
  const under: Swept[][] = masks.map(() => []);
  for (const [c, clip] of clips.entries()) {
    ports.onPhase(`${clip.dir}: trying ${masks.length} masks, reading frames`);
    const floor = floorFor(camera, lowestLevel(grid));
    const drawn = masks.map((mask) => drawMask(mask, camera));
    const evidence = await evidenceUnder(clip, camera, drawn, floor, reading);
    for (const [m, columns] of evidence.entries())
      under[m]!.push(await sweepEvidence(parts[c] as Parts, columns, camera, grid));
  }
  return found.map((candidate, m) => ({ ...candidate, mask: masks[m]!, clips: under[m]! }));
}

/** What the owner masks on any of the clips, each polygon once. */
function ownMask(clips: readonly LabelledClip[]): Polygon[] {
  const all = new Map(clips.flatMap(({ labels }) => (labels.mask ?? []).map((p) => [JSON.stringify(p), p])));
  return [...all.values()] as Polygon[];
}
