import type { Camera } from '../camera/description.js';
import type { ResolvedSettings } from '../camera/settings.js';
import type { Clip } from '../clip/open.js';
import type { ReadingOptions } from '../measure/evidence.js';
import { findCures } from './cures/cures.js';
import type { Diagnosis, MissedVisit } from './diagnosis.js';
import { explainMissed } from './missed/missed.js';
import { openReplayed, type ReplayedClip } from './replayed-clip.js';
import { type Explained, explainTriggers } from './triggers/explain.js';

export interface DiagnoseOptions extends ReadingOptions {
  /** Told what begins; what is done of it is counted anew. */
  onPhase?: (what: string) => void;
}

/** Why clips fire falsely under some settings, what they miss, and what would help. */
export async function diagnose(
  clips: readonly Clip[],
  camera: Camera,
  settings: ResolvedSettings,
  options: DiagnoseOptions,
): Promise<Diagnosis> {
  const cases: ReplayedClip[] = [];
  const explained: Explained[] = [];
  try {
    for (const clip of clips) {
      options.onPhase?.(`${clip.dir}: reading frames`);
      const replayed = await openReplayed(clip, camera, settings, options);
      cases.push(replayed);
      options.onPhase?.(`${clip.dir}: looking around what fired`);
      explained.push(await explainTriggers(replayed, options));
    }
    options.onPhase?.('why visits were missed: reading frames');
    const missed = await explainMissed(cases, options);
    options.onPhase?.('trying cures');
    const { cures, notes } = await findCures(
      cases,
      explained.map(({ maps }) => maps),
      options,
    );
    return {
      clips: cases.map(({ clip, judged }, i) => {
        const { explained: triggers, places, byLuck } = explained[i]!;
        return {
          clip: clip.dir,
          seconds: clip.seconds,
          judged,
          explained: triggers,
          missed: missed[i] as MissedVisit[],
          byLuck,
          places,
        };
      }),
      cures,
      notes,
    };
  } finally {
    for (const { dispose } of explained) await dispose();
  }
}
