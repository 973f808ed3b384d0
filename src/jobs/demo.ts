import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { defaultCamera } from '../camera/default.js';
import type { Camera } from '../camera/description.js';
import type { Settings } from '../camera/settings.js';
import type { Clip } from '../clip/open.js';
import { ofProgram } from '../files/of-program.js';
import { type DiagnoseResult, diagnose } from './diagnose.js';
import { openClips } from './open.js';
import { openPorts, type Ports, tellingPlaces } from './ports.js';
import { replay } from './replay.js';
import { type SiteResult, type TuneResult, tune } from './tune.js';

const SCENES = fileURLToPath(new URL('../../clips/', import.meta.url));

/** One kind of weather in which one group of settings for all sites does worse than settings of its own. */
export interface OwnWeather {
  site: SiteResult;
  condition: SiteResult['byCondition'][number]['condition'];
  visits: number;
  /** With the one group for everything, and with the weather's own. */
  pooled: Given;
  own: Given;
  controls: Record<string, number>;
  /** Whether the weather's own are with a mask that the labels do not hold. */
  masked: boolean;
}

interface Given {
  /** Visits, and not by luck. */
  caught: number;
  falseTriggers: number;
}

export interface DemoResult {
  camera: Camera;
  clips: Clip[];
  tuned: TuneResult;
  /** Of the clip that the dials at their middle miss most of. */
  diagnosis: DiagnoseResult;
  /** Where settings for one kind of weather gain the most; null where none gain. */
  ownWeather: OwnWeather | null;
}

/** Draws the demo clips (kept for next time), tunes the default camera on them and explains what it comes with. */
export async function demo(ports: Ports = {}): Promise<DemoResult> {
  const given = await openPorts(ports);
  const scenes = (await readdir(ofProgram(SCENES))).filter((name) => name.endsWith('.json')).sort();
  const files = scenes.map((name) => join(SCENES, name));
  const clips = (await openClips(files, given)).map((clip, i) => ({
    ...clip,
    dir: scenes[i]!.replace(/\.json$/, ''),
  }));
  const open = tellingPlaces(
    given,
    clips.map(({ dir }) => dir),
  );
  const camera = defaultCamera;
  const tuned = await tune({ clips, camera }, open);
  const { settings } = tuned.sites[0]!.now;
  const now = { ...settings, warnings: [] };
  const { clips: replayed } = await replay({ clips, camera, settings: now }, open);
  const missed = replayed.map(({ score }) => score.visits - score.caught);
  const worst = clips[missed.indexOf(Math.max(...missed))]!;
  const diagnosis = await diagnose({ clips: [worst], camera, settings: now }, open);
  return { camera, clips, tuned, diagnosis, ownWeather: await mostFromOwnWeather(clips, tuned, open) };
}

async function mostFromOwnWeather(
  clips: readonly Clip[],
  { sites }: TuneResult,
  ports: Ports,
): Promise<OwnWeather | null> {
  const together = await tune({ clips, together: true, recordedOnly: true }, ports);
  const one = together.sites[0]!.recommended.settings;
  let most: OwnWeather | null = null;
  for (const site of sites) {
    for (const { condition, clips: names, source, choice } of site.byCondition) {
      if (source !== 'recorded' || !choice) continue;
      const of = clips.filter(({ dir }) => names.includes(dir));
      const given = async (settings: Settings): Promise<Given> => {
        const { total } = await replay({ clips: of, settings: { ...settings, warnings: [] } }, ports);
        return { caught: total.caught - (total.byLuck ?? 0), falseTriggers: total.falseTriggers };
      };
      const [pooled, own] = [await given(one), await given(choice.settings)];
      const { visits } = choice.score;
      if (own.caught - pooled.caught > (most ? most.own.caught - most.pooled.caught : 0)) {
        const masked = site.mask !== null;
        most = { site, condition, visits, pooled, own, controls: choice.controls, masked };
      }
    }
  }
  return most;
}
