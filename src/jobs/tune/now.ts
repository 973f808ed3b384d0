import type { Camera } from '../../camera/description.js';
import { dialFor, positionOf } from '../../camera/dials.js';
import type { ResolvedSettings, Settings } from '../../camera/settings.js';
import type { Clip } from '../../clip/open.js';
import { dialsGiving, fileOf } from '../../diagnose/missed/nearest-grid.js';
import type { ReadingOptions } from '../../measure/evidence.js';
import { judgeClip, replayClip } from '../../measure/replay.js';
import type { Judged } from '../../score/replayed.js';
import type { Grid } from '../../sweep/grid.js';
import { againstNow, type Now, type Replays } from '../../tune/now.js';
import type { OpenPorts } from '../ports.js';

/**
 * Replays clips under what is used today and under what is recommended, and holds the one against the other.
 * @param now null: each dial at its middle, the lower of two
 */
export async function heldAgainstNow(
  clips: readonly Clip[],
  camera: Camera,
  grid: Grid,
  now: ResolvedSettings | null,
  recommended: Settings & Pick<ResolvedSettings, 'mask'>,
  ports: OpenPorts,
): Promise<Now> {
  const today = now ?? { ...grid.settingsAt(middleOf(grid)), warnings: [] };
  const replays: Replays[] = [];
  for (const clip of clips) {
    ports.onPhase(`${clip.dir}: holding it against what is used now`);
    replays.push({
      clip: clip.dir,
      now: await judgedUnder(clip, camera, today, ports),
      recommended: await judgedUnder(clip, camera, { ...recommended, warnings: [] }, ports),
    });
  }
  return {
    settings: fileOf(today, today.mask),
    controls: dialsGiving(camera, today),
    ...againstNow(replays),
    assumed: now === null,
    unnamed: unnamedDials(camera, today),
  };
}

/** The dials that a settings file leaves out, at the engine values that then hold. */
function unnamedDials(
  camera: Camera,
  { leftOut = [], ...settings }: ResolvedSettings,
): Record<string, number> {
  return Object.fromEntries(
    leftOut.flatMap((value) => {
      const found = dialFor(camera.controls, value);
      return found ? [[found[0], positionOf(found[1], settings[value]) ?? settings[value]]] : [];
    }),
  );
}

/** The setting with each dial at its middle position, the lower of two. */
function middleOf(grid: Grid): number {
  const middle = grid.dials.map(({ positions }) => (positions.length - 1) >> 1);
  return grid.dials.reduce((setting, { positions }, d) => setting * positions.length + middle[d]!, 0);
}

/** A clip's triggers under some settings, held against its labels. */
export async function judgedUnder(
  clip: Clip,
  camera: Camera,
  settings: ResolvedSettings,
  options: ReadingOptions,
): Promise<Judged> {
  // What there is to be said of a recording was said when it was first read.
  const { onWarning: _, ...reading } = options;
  const times = await replayClip(clip, camera, settings, reading);
  return judgeClip(clip, camera, settings, times, reading);
}
