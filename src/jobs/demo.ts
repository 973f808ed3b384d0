import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { defaultCamera } from '../camera/default.js';
import type { Camera } from '../camera/description.js';
import type { Clip } from '../clip/open.js';
import type { TuneResult } from '../tune/tune.js';
import { type DiagnoseResult, diagnose } from './diagnose.js';
import { openClips } from './open.js';
import { openPorts, type Ports } from './ports.js';
import { tune } from './tune.js';

/** The demo's weather is hard: with fewer false triggers an hour, nearly nothing would be caught. */
const allowance = { falsePerHour: 30 };
/** What an owner has who recorded one calm morning. */
const CALM = 'log-pile-calm';
const SCENES = fileURLToPath(new URL('../../clips/', import.meta.url));

export interface DemoResult {
  camera: Camera;
  clips: Clip[];
  tuned: TuneResult;
  /** Of the recommended settings. */
  diagnosis: DiagnoseResult;
  /** The same from one calm clip, other weather simulated on it. */
  calm: Clip[];
  fromCalm: TuneResult;
}

/** Draws the demo clips (kept for next time), tunes the default camera on them and explains what that gives. */
export async function demo(ports: Ports = {}): Promise<DemoResult> {
  const open = await openPorts(ports);
  const scenes = (await readdir(SCENES)).filter((name) => name.endsWith('.json')).sort();
  const files = scenes.map((name) => join(SCENES, name));
  const clips = (await openClips(files, open)).map((clip, i) => ({
    ...clip,
    dir: scenes[i]!.replace(/\.json$/, ''),
  }));
  const camera = defaultCamera;
  const tuned = await tune({ clips, camera, allowance }, open);
  const settings = { ...tuned.recommended.settings, warnings: [] };
  const diagnosis = await diagnose({ clips, camera, settings }, open);
  const calm = clips.filter((clip) => clip.dir === CALM);
  const fromCalm = await tune({ clips: calm, camera, allowance }, open);
  return { camera, clips, tuned, diagnosis, calm, fromCalm };
}
