import { Problem } from '../../base/problem.js';
import type { Camera } from '../../camera/description.js';
import type { ResolvedSettings } from '../../camera/settings.js';
import { type Replayed, replaySuite } from '../../check/results.js';
import type { Suite } from '../../check/suite.js';
import { noteSlowClips } from '../../cli/camera.js';
import { Progress } from '../../cli/progress.js';
import { warn } from '../../cli/terminal.js';
import type { LabelledClip } from '../../clip/labelled.js';
import type { Cache } from '../../store/cache.js';
import { openClips } from '../open.js';

/** A clip of a suite under its name there. */
export interface SuiteClip {
  name: string;
  clip: LabelledClip;
}

/**
 * Opens the clips of a suite in its order.
 * @throws Problem for a clip without labels, or a recording that is in it twice
 */
export async function openSuite({ file, clips }: Suite, cache: Cache): Promise<SuiteClip[]> {
  const opened = await openClips(
    clips.map(({ path }) => path),
    cache,
  );
  return opened.map((clip, i) => {
    const { name, path } = clips[i] as Suite['clips'][number];
    const twin = opened.findIndex(({ contentKey }) => contentKey === clip.contentKey);
    if (twin < i) {
      throw new Problem(
        'bad-field',
        `${file}: clips[${i}]: expected each recording once, found that of clips[${twin}] again, whose visits would count twice; take one of them out`,
      );
    }
    const { labels } = clip;
    if (!labels) {
      throw new Problem(
        'needs-labels',
        `${file}: clips[${i}]: expected a clip with labels, for without them nothing can be lost, found no labels.json in ${path}; write one (README, "On your own camera") or take the clip out`,
      );
    }
    return { name, clip: { ...clip, labels } };
  });
}

/** Replays the clips of a suite, with progress. */
export async function replayShown(
  clips: readonly SuiteClip[],
  { camera, settings }: { camera: Camera; settings: ResolvedSettings },
  cache: Cache,
): Promise<Replayed> {
  for (const warning of settings.warnings) warn(warning);
  noteSlowClips(
    clips.map(({ clip }) => clip),
    camera,
  );
  let progress = new Progress('');
  const results = await replaySuite(clips, camera, settings, (clip) => {
    progress.end();
    progress = new Progress(`${clip.dir}: reading frames`);
    return { cache, onProgress: progress.update, onWarning: (text) => warn(`${clip.dir}: ${text}`) };
  });
  progress.end();
  return results;
}
