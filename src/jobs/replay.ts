import { judgeClip, replayClip } from '../measure/replay.js';
import type { Judged } from '../score/replayed.js';
import { addCounts, noCounts, type Score, scoreOf } from '../score/score.js';
import {
  type CameraGiven,
  type ClipGiven,
  noteCoarseClips,
  openCamera,
  openClips,
  openSettings,
  type SettingsGiven,
} from './open.js';
import { openPorts, type Ports } from './ports.js';

export interface ReplayInput {
  clips: readonly ClipGiven[];
  camera?: CameraGiven;
  settings: SettingsGiven;
}

/** One clip under the settings. Times in seconds from its start. */
export interface ClipReplayed extends Judged {
  /** As it was named. */
  clip: string;
  /** All of the clip's, analysed or not. */
  frames: number;
  seconds: number;
  /** Whether clip.json says that weather was put onto it. */
  simulated: boolean;
  score: Score;
}

export interface ReplayResult {
  clips: ClipReplayed[];
  /** The clips with labels together. */
  total: Score;
}

/**
 * Replays clips under one group of settings and holds the triggers against the clips' labels; without labels every
 * verdict, ratio and rate is null.
 * @throws Problem for anything wrong with what was given; the signal's reason when aborted
 */
export async function replay(input: ReplayInput, ports: Ports = {}): Promise<ReplayResult> {
  const open = await openPorts(ports);
  const camera = await openCamera(input.camera);
  const settings = await openSettings(input.settings, camera, open);
  const clips = await openClips(input.clips, open);
  noteCoarseClips(clips, camera, open);
  const replayed: ClipReplayed[] = [];
  for (const clip of clips) {
    open.onPhase(`${clip.dir}: reading frames`);
    const times = await replayClip(clip, camera, settings, open);
    const judged = await judgeClip(clip, camera, settings, times, open);
    replayed.push({
      clip: clip.dir,
      frames: clip.times.length,
      seconds: clip.seconds,
      simulated: clip.manifest.simulated !== undefined,
      ...judged,
      score: scoreOf(judged.counts ?? noCounts),
    });
  }
  return resultOf(replayed);
}

/** Clips that were replayed, with the score of all of them together: of several spots as well, each under its own settings. */
export function resultOf(clips: ClipReplayed[]): ReplayResult {
  return { clips, total: scoreOf(addCounts(clips.flatMap(({ counts }) => (counts ? [counts] : [])))) };
}

/** The document of `replay --json`. */
export function replayDocument({ clips, total }: ReplayResult) {
  return {
    clips: clips.map(({ clip, frames, seconds, simulated, triggers, visits, score }) => ({
      clip,
      frames,
      seconds,
      ...(simulated && { simulated: true as const }),
      triggers,
      visits: visits.map(({ start, end, caught }) => ({ start, end, caught })),
      score,
    })),
    total,
  };
}
