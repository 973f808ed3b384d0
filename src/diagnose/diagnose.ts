import type { Camera } from '../camera/description.js';
import { keepsEvidence } from '../camera/keeps-evidence.js';
import type { ResolvedSettings } from '../camera/settings.js';
import type { Clip } from '../clip/open.js';
import type { ReadingOptions } from '../measure/evidence.js';
import { causeTold } from '../score/cause-told.js';
import { findCures } from './cures/cures.js';
import type { Diagnosis, MissedVisit, Taught } from './diagnosis.js';
import { explainMissed } from './missed/missed.js';
import { openReplayed, type ReplayedClip } from './replayed-clip.js';
import type { Layer } from './teach/layer.js';
import { type Taken, teach } from './teach/teach.js';
import { type Explained, explain, lookAtTriggers } from './triggers/explain.js';
import { firstLook } from './triggers/first-look.js';

export interface DiagnoseOptions extends ReadingOptions {
  /** Told what begins; what is done of it is counted anew. */
  onPhase?: (what: string) => void;
  /** Whether to learn of each site from the causes that its clips' labels tell. */
  teach?: boolean;
  /** Further clips to learn from, of which nothing else is told. */
  teachers?: readonly Clip[];
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
  const further: { replayed: ReplayedClip; looked: Explained }[] = [];
  const look = async (clip: Clip) => {
    options.onPhase?.(`${clip.dir}: reading frames`);
    const first = keepsEvidence(camera) ? await firstLook(clip, camera, settings, options) : null;
    try {
      const replayed = await openReplayed(clip, camera, settings, options);
      options.onPhase?.(`${clip.dir}: looking around what fired`);
      return { replayed, looked: await lookAtTriggers(replayed, options, first) };
    } catch (error) {
      await first?.dispose();
      throw error;
    }
  };
  try {
    for (const clip of clips) {
      const { replayed, looked } = await look(clip);
      cases.push(replayed);
      explained.push(looked);
    }
    for (const clip of options.teach ? (options.teachers ?? []) : []) further.push(await look(clip));
    options.onPhase?.('why visits were missed: reading frames');
    const missed = await explainMissed(cases, options);
    options.onPhase?.('trying cures');
    const { cures, notes } = await findCures(
      cases,
      explained.map(({ maps }) => maps),
      options,
    );
    const lessons = options.teach
      ? lessonsOf(
          [...cases, ...further.map(({ replayed }) => replayed)],
          [...explained, ...further.map(({ looked }) => looked)],
        )
      : null;
    return {
      clips: cases.map((replayed, i) => {
        const { clip, judged } = replayed;
        const { looked, places, byLuck } = explained[i]!;
        return {
          clip: clip.dir,
          simulated: clip.manifest.simulated !== undefined,
          seconds: clip.seconds,
          judged,
          explained: explain(looked, replayed, lessons?.layers[i] ?? null),
          missed: missed[i] as MissedVisit[],
          byLuck,
          places,
        };
      }),
      cures,
      notes,
      ...(lessons && { taught: lessons.taught }),
    };
  } finally {
    for (const { dispose } of [...explained, ...further.map(({ looked }) => looked)]) await dispose();
  }
}

/** What the labels teach of each site, and for each clip what is to be used of it. Clips that name no site share one. */
function lessonsOf(
  cases: readonly ReplayedClip[],
  explained: readonly Explained[],
): { layers: (Layer | null)[]; taught: Taught[] } {
  const layers = cases.map((): Layer | null => null);
  const sites = [...new Set(cases.map(({ clip }) => clip.manifest.site ?? null))];
  const taught = sites.map((site) => {
    const own = [...cases.keys()].filter((i) => (cases[i]!.clip.manifest.site ?? null) === site);
    const triggers = own.flatMap((i) =>
      explained[i]!.looked.map(
        ({ time, probabilities }): Taken => ({
          clip: i,
          time,
          probabilities,
          told: causeTold(cases[i]!.clip.labels?.causes, time),
        }),
      ),
    );
    const lesson = teach(triggers);
    for (const i of own) layers[i] = lesson.layer;
    return { site, clips: own.map((i) => cases[i]!.clip.dir), ...lesson.taught };
  });
  return { layers, taught };
}
