import { defaultCamera as camera } from '../../../src/camera/default.js';
import { type LabelledClip, needLabels } from '../../../src/clip/labelled.js';
import type { Polygon } from '../../../src/engine/mask.js';
import { openPorts } from '../../../src/jobs/ports.js';
import { sweepMasks } from '../../../src/jobs/tune/masks.js';
import { sweepOf } from '../../../src/jobs/tune/sweep-clip.js';
import { judgeClip, replayClip } from '../../../src/measure/replay.js';
import { openScene } from '../../../src/scene/film.js';
import type { SceneSpec } from '../../../src/scene/spec.js';
import { addCounts, noCounts } from '../../../src/score/score.js';
import { jsonKey } from '../../../src/store/key.js';
import { gridFor } from '../../../src/sweep/for-camera.js';
import type { Goal } from '../../../src/tune/goal.js';
import { bestMask, isProved, leftOutInTurn, type Paired } from '../../../src/tune/mask.js';
import { poolOf } from '../../../src/tune/pool.js';
import { recommend } from '../../../src/tune/recommend.js';
import type { Swept } from '../../../src/tune/site-result.js';
import { keep, sourceKey } from '../transfer/keep.js';
import type { Site } from './sites.js';

const grid = gridFor(camera);
const sources = sourceKey(
  ...['camera', 'engine', 'measure', 'scene', 'score', 'sweep', 'tune', 'jobs/tune', 'diagnose/cures'].map(
    (room) => `src/${room}`,
  ),
  'tests/evaluate/masks',
);

export interface Counted {
  caught: number;
  /** Of these by luck: something else fired. */
  byLuck: number;
  falseTriggers: number;
}

/** What came of a site under one goal. */
export interface Tried {
  /** What was chosen without a block, on it; all blocks together. */
  leftOut: { bare: Counted; masked: Counted };
  isProved: boolean;
  /** On clips that nothing was chosen on; `masked` is null where no mask is expected to be worth more than none. */
  judged: { visits: number; hours: number; bare: Counted; masked: Counted | null };
}

/** Tunes a site with and without new masks, and replays both on its other clips; what was worked out before is kept. */
export async function tryMasks(site: Site, goals: readonly Goal[]): Promise<Tried[]> {
  const { tune, judge } = site;
  return keep(`masks-${site.name}`, jsonKey(sources, tune, judge, goals, camera), async () => {
    const ports = await openPorts();
    const open = async (spec: SceneSpec): Promise<LabelledClip> => {
      const clip = await openScene(spec, ports);
      needLabels(clip);
      return clip;
    };
    const clips: LabelledClip[] = [];
    for (const spec of tune) clips.push(await open(spec));
    const others: LabelledClip[] = [];
    for (const spec of judge) others.push(await open(spec));
    const swept: Swept[] = [];
    for (const clip of clips) swept.push(await sweepOf(clip, camera, grid, ports));
    const bare = swept.map(({ whole }) => whole);
    const tried: Tried[] = [];
    for (const goal of goals) {
      const masks = await sweepMasks(clips, swept, camera, grid, goal, ports);
      const parts = masks.map((mask) => ({ mask, parts: mask.clips.map(({ whole }) => whole) }));
      const best = bestMask(bare, parts, grid, goal);
      const paired = leftOutInTurn(swept, masks, grid, goal);
      const judged = await judgedOn(others, recommend(poolOf(bare), grid, goal).setting);
      tried.push({
        leftOut: { bare: added(paired, 'bare'), masked: added(paired, 'masked') },
        isProved: best !== null && isProved(paired, best.gain, goal),
        judged: {
          visits: judged.visits,
          hours: judged.watchedSeconds / 3600,
          bare: judged,
          masked: best && (await judgedOn(others, best.setting, best.mask.mask)),
        },
      });
    }
    return tried;
  });
}

function added(paired: readonly Paired[], which: 'bare' | 'masked'): Counted {
  const sum = (of: 'caught' | 'falseTriggers') => paired.reduce((all, block) => all + block[which][of], 0);
  return { caught: sum('caught'), byLuck: 0, falseTriggers: sum('falseTriggers') };
}

async function judgedOn(clips: readonly LabelledClip[], setting: number, mask?: Polygon[]) {
  const ports = await openPorts();
  const settings = { ...grid.settingsAt(setting), ...(mask && { mask }), warnings: [] };
  const counts: (typeof noCounts)[] = [];
  for (const clip of clips) {
    const triggers = await replayClip(clip, camera, settings, ports);
    counts.push((await judgeClip(clip, camera, settings, triggers, ports)).counts ?? noCounts);
  }
  return addCounts(counts);
}
