import { Problem } from '../../base/problem.js';
import type { Camera } from '../../camera/description.js';
import type { ResolvedSettings } from '../../camera/settings.js';
import { type Firmware, replayFirmware } from '../../check/firmware/replay.js';
import { type Replayed, replaySuite } from '../../check/results.js';
import type { Suite } from '../../check/suite.js';
import type { LabelledClip } from '../../clip/labelled.js';
import { replayClip } from '../../measure/replay.js';
import { noteCoarseClips, openClips } from '../open.js';
import { type OpenPorts, tellingPlaces } from '../ports.js';

/** A clip of a suite under its name there. */
export interface SuiteClip {
  name: string;
  clip: LabelledClip;
}

/**
 * Opens the clips of a suite in its order.
 * @throws Problem for a clip without labels, or a recording that is in it twice
 */
export async function openSuite({ file, clips }: Suite, ports: OpenPorts): Promise<SuiteClip[]> {
  const opened = await openClips(
    clips.map(({ path }) => path),
    ports,
  );
  return opened.map((clip, i) => {
    const { name, path, place } = clips[i]!;
    const twin = opened.findIndex(({ contentKey }) => contentKey === clip.contentKey);
    if (twin < i) {
      throw new Problem(
        'bad-field',
        `${file}: ${place}: expected each recording once, found that of ${clips[twin]!.place} again, whose visits would count twice; take one of them out`,
      );
    }
    const { labels } = clip;
    if (!labels) {
      throw new Problem(
        'needs-labels',
        `${file}: ${place}: expected a clip with labels, because without them nothing can be lost, found no labels.json in ${path}; write one (README, "On your own camera") or take the clip out`,
      );
    }
    return { name, clip: { ...clip, labels } };
  });
}

/** Tells what should be known of a camera and settings, and of clips under them, before any are replayed. */
export function noteBefore(
  clips: readonly SuiteClip[],
  { camera, settings }: { camera: Camera; settings: ResolvedSettings },
  ports: OpenPorts,
): void {
  for (const warning of settings.warnings) ports.onWarning(warning);
  noteCoarseClips(
    clips.map(({ clip }) => clip),
    camera,
    ports,
  );
}

/**
 * Replays the clips of a suite, telling of its progress.
 * @param firmware a program that fires in the place of the camera's description
 */
export async function replaySuiteClips(
  clips: readonly SuiteClip[],
  { camera, settings }: { camera: Camera; settings: ResolvedSettings },
  ports: OpenPorts,
  firmware?: Firmware,
): Promise<Replayed> {
  const told = tellingPlaces(
    ports,
    clips.map(({ clip }) => clip.dir),
  );
  const triggersOf = (clip: LabelledClip) => {
    const options = { ...ports, onWarning: (text: string) => ports.onWarning(`${clip.dir}: ${text}`) };
    told.onPhase(`${clip.dir}: ${firmware ? 'the command looks at frames' : 'reading frames'}`);
    return firmware
      ? replayFirmware(clip, camera, settings, firmware, options)
      : replayClip(clip, camera, settings, options);
  };
  const { command, fullSize = false } = firmware ?? {};
  return replaySuite(
    clips,
    camera,
    settings,
    triggersOf,
    command === undefined ? undefined : { command, fullSize },
  );
}
