import type { Camera } from '../../camera/description.js';
import { keepsEvidence } from '../../camera/keeps-evidence.js';
import { type LabelledClip, needLabels } from '../../clip/labelled.js';
import type { Clip } from '../../clip/open.js';
import type { Polygon } from '../../engine/mask.js';
import { ownConditions } from '../../measure/weather/own-conditions.js';
import { withMask } from '../../measure/weather/seen-as.js';
import type { Grid } from '../../sweep/grid.js';
import type { Goal } from '../../tune/goal.js';
import { chooseMask, type MaskChoice, type MaskSweep } from '../../tune/mask.js';
import type { Swept, TunedClip } from '../../tune/site-result.js';
import { recordedOf } from '../../tune/tune.js';
import { calmestOfEachSite } from '../../tune/weather-to-try.js';
import { conditionsOf } from '../../weather/conditions.js';
import type { Conditions } from '../../weather/setup.js';
import type { OpenPorts } from '../ports.js';
import { sweepMasks } from './masks.js';
import { sweepOf } from './sweep-clip.js';
import { unsaidText } from './unsaid.js';

/** A swept clip with what it was recorded in; null: nothing is known of it. */
export interface SweptClip extends TunedClip {
  recordedIn: Conditions | null;
}

/** The clips of one site under every setting, as recorded. */
export interface SweptSite {
  swept: SweptClip[];
  /** Those that choices rest on: the recorded ones. */
  judged: readonly SweptClip[];
  goal: Goal;
  /** The mask to add, and all clips swept under it. */
  masked: MaskChoice<Swept> | null;
  /** The clips that weather may be put onto, with that mask in their labels; none where the camera keeps no evidence. */
  sources: LabelledClip[];
}

/**
 * Reads the clips of one site, replays them under every setting of the grid, and tries masks beside the dials.
 * @param goalFor what is wanted, once it is known what was recorded
 */
export async function sweepSite(
  clips: readonly Clip[],
  camera: Camera,
  grid: Grid,
  ports: OpenPorts,
  goalFor: (judged: readonly TunedClip[]) => Goal,
): Promise<SweptSite> {
  const swept: SweptClip[] = [];
  for (const clip of clips) swept.push(await sweepOne(clip, camera, grid, ports));
  const unsaid = unsaidText(siteOf(clips), swept);
  if (unsaid) ports.onWarning(unsaid);
  const judged = recordedOf(swept);
  for (const { clip } of swept.filter((one) => !judged.includes(one))) {
    ports.onWarning(
      `${clip}: it speaks only for weather that no clip recorded, and does not count with those recorded`,
    );
  }
  const goal = goalFor(judged);
  const masks = seeOnePicture(clips) ? await sweepMasks(clips, swept, camera, grid, goal, ports) : [];
  ports.signal?.throwIfAborted();
  const masked = maskFor(swept, masks, grid, goal);
  const sources = keepsEvidence(camera) ? sourcesOf(clips, masked?.mask.mask) : [];
  return { swept, judged, goal, masked, sources };
}

/** Clips by their site, in the order in which sites first come; those that name none are one. */
export function groupsOf(clips: readonly Clip[], together: boolean): [string | null, Clip[]][] {
  if (together) {
    return [[siteOf(clips), [...clips]]];
  }
  const groups = new Map<string | null, Clip[]>();
  for (const clip of clips) {
    const site = clip.manifest.site ?? null;
    groups.set(site, [...(groups.get(site) ?? []), clip]);
  }
  return [...groups];
}

/** What all clips name as their site; null where they name none or several. */
function siteOf(clips: readonly Clip[]): string | null {
  const names = new Set(clips.map(({ manifest }) => manifest.site ?? null));
  return names.size === 1 ? ([...names][0] ?? null) : null;
}

/** The mask to add, chosen by what was recorded, with its sweeps of all clips. */
function maskFor(
  swept: readonly TunedClip[],
  masks: readonly MaskSweep<Swept>[],
  grid: Grid,
  goal: Goal,
): MaskChoice<Swept> | null {
  const judged = recordedOf(swept);
  const places = judged.map((clip) => swept.indexOf(clip));
  const over = masks.map((mask) => ({ ...mask, clips: places.map((place) => mask.clips[place]!) }));
  const choice = chooseMask(judged, over, grid, goal);
  return choice && { ...choice, mask: masks[over.indexOf(choice.mask)]! };
}

/** Clips of different sites, tuned together, share no mask. */
function seeOnePicture(clips: readonly Clip[]): clips is LabelledClip[] {
  return new Set(clips.map(({ manifest }) => manifest.site)).size === 1;
}

async function sweepOne(clip: Clip, camera: Camera, grid: Grid, ports: OpenPorts): Promise<SweptClip> {
  ports.signal?.throwIfAborted();
  const how = keepsEvidence(camera) ? 'reading frames' : `replaying ${grid.size} settings frame by frame`;
  ports.onPhase(`${clip.dir}: ${how}`);
  const onWarning = (line: string) => ports.onWarning(`${clip.dir}: ${line}`);
  const parts = await sweepOf(clip, camera, grid, { ...ports, onWarning });
  const { conditions, notes } = await ownConditions(clip, camera.analysis, ports.signal);
  for (const note of notes) ports.onWarning(note);
  return {
    clip: clip.dir,
    conditions: conditionsOf(conditions),
    recordedIn: conditions,
    simulated: clip.manifest.simulated !== undefined,
    ...parts,
  };
}

/** The clips that weather is put onto: the calmest recorded one of each site, with a new mask in its labels. */
function sourcesOf(clips: readonly Clip[], mask: readonly Polygon[] | undefined): LabelledClip[] {
  const recorded = clips.filter((clip) => !clip.manifest.simulated);
  return calmestOfEachSite(recorded).map((clip) => {
    needLabels(clip);
    return mask ? withMask(clip, mask) : clip;
  });
}
