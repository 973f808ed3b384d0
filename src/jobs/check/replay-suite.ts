import { Problem } from '../../base/problem.js';
import type { Camera } from '../../camera/description.js';
import type { ResolvedSettings } from '../../camera/settings.js';
import { type Replayed, replaySuite } from '../../check/results.js';
import type { Suite } from '../../check/suite.js';
import type { LabelledClip } from '../../clip/labelled.js';
import { noteSlowClips, openClips } from '../open.js';
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
        `${file}: ${place}: expected a clip with labels, for without them nothing can be lost, found no labels.json in ${path}; write one (README, "On your own camera") or take the clip out`,
      );
    }
    return { name, clip: { ...clip, labels } };
  });
}

/** Replays the clips of a suite, telling of its progress. */
export async function replaySuiteClips(
  clips: readonly SuiteClip[],
  { camera, settings }: { camera: Camera; settings: ResolvedSettings },
  ports: OpenPorts,
): Promise<Replayed> {
  for (const warning of settings.warnings) ports.onWarning(warning);
  noteSlowClips(
    clips.map(({ clip }) => clip),
    camera,
    ports,
  );
  const told = tellingPlaces(
    ports,
    clips.map(({ clip }) => clip.dir),
  );
  return replaySuite(clips, camera, settings, (clip) => {
    told.onPhase(`${clip.dir}: reading frames`);
    return { ...ports, onWarning: (text) => ports.onWarning(`${clip.dir}: ${text}`) };
  });
}
