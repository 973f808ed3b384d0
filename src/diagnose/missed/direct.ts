import type { Camera } from '../../camera/description.js';
import { directReplay } from '../../camera/direct-replay.js';
import type { Settings } from '../../camera/settings.js';
import { photosFor } from '../../camera/timing.js';
import { luminanceFrames } from '../../clip/open.js';
import { EvidenceMeter, type FrameEvidence } from '../../engine/evidence.js';
import type { ReadingOptions } from '../../measure/evidence.js';
import { replayDirectly } from '../../measure/replay.js';
import { type Judged, judgeAll } from '../../score/replayed.js';
import { type ColumnSource, columnsFrom } from '../../sweep/columns.js';
import type { ReplayedClip } from '../replayed-clip.js';
import type { Tried } from './nearest.js';
import { type Turn, turnsAround } from './turns.js';

/**
 * What a camera whose reference depends on its triggers saw, in one reading: the areas of the frames asked for, 0 where
 * the camera was busy.
 *
 * @param wanted analysed frames
 * @param levels that will be asked for
 */
export async function seeDirectly(
  replayed: ReplayedClip,
  mask: Uint8Array | null,
  wanted: ReadonlySet<number>,
  levels: readonly number[],
  options: ReadingOptions,
): Promise<ColumnSource> {
  const { clip, camera, settings, indices, times } = replayed;
  const { width, height } = camera.analysis;
  const replay = directReplay(camera, settings, mask);
  const meter = new EvidenceMeter(width, height, Math.min(...levels));
  const rows = new Map<number, Record<keyof FrameEvidence, number[]>>();
  let k = 0;
  for await (const y of luminanceFrames(clip, indices, camera.analysis, options.signal)) {
    replay.step(y, times[k]!);
    if (wanted.has(k) && replay.lastDifference) {
      const { changed, region } = meter.measure(replay.lastDifference);
      const at = (counts: Uint32Array) => levels.map((level) => counts[level]!);
      rows.set(k, { changed: at(changed), region: at(region) });
    }
    k++;
    options.onProgress?.(k, indices.length);
  }
  return columnsFrom((level, kind) => {
    const column = new Uint32Array(times.length);
    const place = levels.indexOf(level);
    for (const [frame, row] of rows) column[frame] = row[kind][place]!;
    return column;
  });
}

/** What a clip's triggers would be under each of the turns around its settings. */
export interface Turned {
  turns: readonly Turn[];
  /** In the order of turns. */
  judged: readonly Judged[];
}

const known = new WeakMap<ReplayedClip, Promise<Turned>>();

/** Replays a clip frame by frame under every turn around its settings, in one reading; a second call costs nothing. */
export function replayTurned(replayed: ReplayedClip, options: ReadingOptions): Promise<Turned> {
  const before = known.get(replayed);
  if (before) return before;
  const turned = readTurned(replayed, options);
  known.set(replayed, turned);
  return turned;
}

async function readTurned(replayed: ReplayedClip, options: ReadingOptions): Promise<Turned> {
  const turns = turnsAround(replayed.camera, replayed.settings);
  const all = turns.map((turn): Settings => turn.settings);
  const times = await replayDirectly(replayed.clip, replayed.camera, all, replayed.mask, options);
  return { turns, judged: times.map((fired) => judgeUnder(replayed.camera, fired, replayed)) };
}

/** Settings one notch away, as replayed frame by frame. */
export async function tryTurns(cases: readonly ReplayedClip[], options: ReadingOptions): Promise<Tried> {
  const { camera, settings } = cases[0]!;
  const turns = turnsAround(camera, settings);
  const near = turns.flatMap((turn, i) => (turn.notches === 1 ? [i] : []));
  const counts: Tried['counts'][number][] = [];
  for (const replayed of cases) {
    if (!replayed.truth) {
      counts.push(null);
      continue;
    }
    const { judged } = await replayTurned(replayed, options);
    const of = near.map((i) => judged[i] as Judged);
    counts.push({
      falseTriggers: Uint32Array.from(of, (j) => j.counts?.falseTriggers ?? 0),
      caughtVisit: (setting, visit) => of[setting]?.visits[visit]?.caught === true,
    });
  }
  return {
    size: near.length,
    settingsAt: (setting) => (turns[near[setting]!] as Turn).settings,
    apartAt: () => ({ notches: 1, dials: 1 }),
    counts,
  };
}

function judgeUnder(camera: Camera, fired: readonly number[], { truth }: ReplayedClip): Judged {
  return judgeAll(fired, (time) => photosFor(camera, time), truth);
}
