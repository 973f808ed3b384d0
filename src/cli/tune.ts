import { type Command, InvalidArgumentError } from 'commander';
import { type Camera, keepsEvidence } from '../camera/description.js';
import type { Cache } from '../clip/cache.js';
import type { Clip } from '../clip/open.js';
import { conditionsOf } from '../tune/conditions.js';
import type { Grid } from '../tune/grid.js';
import { gridFor, sweepOf, truthToTune } from '../tune/read.js';
import { type TunedClip, type TuneResult, tune } from '../tune/tune.js';
import { number } from './add.js';
import { cameraNamed, noteSlowClips } from './camera.js';
import { Progress } from './progress.js';
import { warn } from './terminal.js';
import { tuneText } from './tune-text.js';
import { openCache, openClips } from './workspace.js';

/** What is put up with where --false-per-hour is left out. */
const USUAL_ALLOWANCE = 6;

interface Options {
  camera?: string;
  falsePerHour: number;
  json?: true;
}

export function addTune(program: Command): void {
  program
    .command('tune')
    .summary('tries every setting the camera offers, recommends; needs labels')
    .description(
      "Replays labelled clips under every combination of the camera's dials and says which to use.",
    )
    .argument('<clip...>', 'labelled clip folders, or scene files')
    .option('--camera <file>', 'camera.json; left out: the default camera')
    .option(
      '--false-per-hour <n>',
      'triggers at nothing to put up with, per watched hour',
      allowance,
      USUAL_ALLOWANCE,
    )
    .option('--json', 'one JSON document on standard output')
    .action(run);
}

async function run(paths: string[], options: Options): Promise<void> {
  const camera = await cameraNamed(options.camera);
  const grid = gridFor(camera);
  const cache = await openCache();
  const clips = await openClips(paths, cache);
  const result = await tuneClips(clips, camera, grid, options.falsePerHour, cache);
  process.stdout.write(
    options.json ? `${JSON.stringify(result, null, 2)}\n` : `${tuneText(result, clips, camera, grid)}\n`,
  );
}

/** Sweeps labelled clips one after the other and chooses among the settings of the grid. */
export async function tuneClips(
  clips: readonly Clip[],
  camera: Camera,
  grid: Grid,
  falsePerHour: number,
  cache: Cache,
): Promise<TuneResult> {
  for (const clip of clips) truthToTune(clip);
  noteSlowClips(clips, camera);
  const swept: TunedClip[] = [];
  for (const clip of clips) {
    const direct = keepsEvidence(camera)
      ? 'reading frames'
      : `replaying ${grid.size} settings frame by frame`;
    const progress = new Progress(`${clip.dir}: ${direct}`);
    const counts = await sweepOf(clip, camera, grid, {
      cache,
      onProgress: progress.update,
      onWarning: (text) => warn(`${clip.dir}: ${text}`),
    });
    progress.end();
    swept.push({ clip: clip.dir, conditions: conditionsOf(clip.manifest.conditions), counts });
  }
  return tune(swept, grid, { falsePerHour });
}

function allowance(text: string): number {
  const value = number(text);
  if (value < 0) throw new InvalidArgumentError('Expected a number of at least 0.');
  return value;
}
