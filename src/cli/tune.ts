import { type Command, InvalidArgumentError } from 'commander';
import { Problem } from '../base/problem.js';
import { type Camera, keepsEvidence } from '../camera/description.js';
import { needLabels } from '../clip/labelled.js';
import type { Clip } from '../clip/open.js';
import { openCache, openClips } from '../jobs/open.js';
import { calmestOfEachSite, sweepSimulated, wishesFor } from '../jobs/tune/simulate.js';
import { sweepOf } from '../jobs/tune/sweep-clip.js';
import { ownConditions } from '../measure/weather/own-conditions.js';
import { writeReport } from '../report/report.js';
import type { Cache } from '../store/cache.js';
import { gridFor } from '../sweep/for-camera.js';
import type { Grid } from '../sweep/grid.js';
import { type TunedClip, type TuneResult, tune } from '../tune/tune.js';
import type { Simulated } from '../tune/weather.js';
import { conditionNames, conditionsOf } from '../weather/conditions.js';
import { explain } from '../words/explain.js';
import { plural } from '../words/ratios.js';
import { number } from './add.js';
import { cameraNamed, noteSlowClips } from './camera.js';
import { Progress } from './progress.js';
import { warn } from './terminal.js';
import { tuneText } from './tune-text.js';

/** What is put up with where --false-per-hour is left out. */
const USUAL_ALLOWANCE = 6;

interface Options {
  camera?: string;
  falsePerHour?: number;
  photosPerDay?: number;
  hoursOut?: number;
  recordedOnly?: true;
  seed: string;
  report?: string;
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
      `triggers at nothing to put up with, per watched hour (${USUAL_ALLOWANCE} if left out)`,
      atLeastNone,
    )
    .option('--photos-per-day <n>', 'or: photos of nothing to put up with, per day out', atLeastNone)
    .option('--hours-out <n>', 'hours a day that the camera is out, for --photos-per-day', hours)
    .option('--recorded-only', 'leave out weather that nobody recorded, instead of simulating it')
    .option('--seed <text>', 'what simulated weather follows from', '1')
    .option('--report <file>', 'also write one HTML file with figures and pictures')
    .option('--json', 'one JSON document on standard output')
    .action(run);
}

async function run(paths: string[], options: Options): Promise<void> {
  const camera = await cameraNamed(options.camera);
  const falsePerHour = falsePerHourFrom(options, camera);
  const grid = gridFor(camera);
  const cache = await openCache();
  const clips = await openClips(paths, cache);
  const result = await tuneClips(
    clips,
    camera,
    grid,
    falsePerHour,
    cache,
    options.recordedOnly ? null : options.seed,
  );
  if (options.report) {
    await writeReport(options.report, {
      camera,
      settings: result.recommended.settings,
      clips: clips.map((clip) => ({ clip })),
      cache,
      tuned: { result, words: explain(result) },
    });
  }
  process.stdout.write(
    options.json ? `${JSON.stringify(result, null, 2)}\n` : `${tuneText(result, clips, camera, grid)}\n`,
  );
}

/**
 * Sweeps labelled clips one after the other, puts the weather that is missing onto the calmest of each site, and chooses
 * among the settings of the grid.
 * @param seed what simulated weather follows from; null: none is simulated
 */
export async function tuneClips(
  clips: readonly Clip[],
  camera: Camera,
  grid: Grid,
  falsePerHour: number,
  cache: Cache,
  seed: string | null,
): Promise<TuneResult> {
  for (const clip of clips) needLabels(clip);
  noteSlowClips(clips, camera);
  const swept: TunedClip[] = [];
  for (const clip of clips) {
    const direct = keepsEvidence(camera)
      ? 'reading frames'
      : `replaying ${grid.size} settings frame by frame`;
    const progress = new Progress(`${clip.dir}: ${direct}`);
    const parts = await sweepOf(clip, camera, grid, {
      cache,
      onProgress: progress.update,
      onWarning: (text) => warn(`${clip.dir}: ${text}`),
    });
    progress.end();
    const { conditions, notes } = await ownConditions(clip, camera.analysis);
    for (const note of notes) warn(note);
    swept.push({
      clip: clip.dir,
      conditions: conditionsOf(conditions),
      simulated: clip.manifest.simulated !== undefined,
      ...parts,
    });
  }
  const simulated =
    seed === null || !keepsEvidence(camera)
      ? []
      : await simulateMissing(clips, swept, camera, grid, cache, seed);
  return tune(swept, grid, { falsePerHour }, simulated);
}

async function simulateMissing(
  clips: readonly Clip[],
  swept: readonly TunedClip[],
  camera: Camera,
  grid: Grid,
  cache: Cache,
  seed: string,
): Promise<Simulated[]> {
  const missing = conditionNames.filter((name) => !swept.some((clip) => clip.conditions.includes(name)));
  const recorded = clips.filter((clip) => !clip.manifest.simulated);
  const simulated: Simulated[] = [];
  for (const clip of calmestOfEachSite(recorded)) {
    needLabels(clip);
    const wishes = wishesFor(missing, clip);
    if (wishes.length === 0) continue;
    const progress = new Progress(`${clip.dir}: putting ${plural(wishes.length, 'kind')} of weather onto it`);
    const options = { cache, onProgress: progress.update };
    simulated.push(await sweepSimulated(clip, camera, grid, wishes, seed, options));
    progress.end();
  }
  return simulated;
}

/** The allowance in false triggers an hour, from either way of saying it. */
function falsePerHourFrom({ falsePerHour, photosPerDay, hoursOut }: Options, camera: Camera): number {
  const wrong = (text: string): never => {
    throw new Problem('usage', text);
  };
  if (photosPerDay === undefined) {
    if (hoursOut !== undefined)
      wrong('--hours-out: expected together with --photos-per-day; add it or leave both out');
    return falsePerHour ?? USUAL_ALLOWANCE;
  }
  if (falsePerHour !== undefined) {
    wrong(
      '--photos-per-day and --false-per-hour: expected one of the two, for both say the same; leave one out',
    );
  }
  if (hoursOut === undefined) {
    return wrong('--photos-per-day: expected with the hours a day that the camera is out; add --hours-out');
  }
  return photosPerDay / hoursOut / camera.burst.photos;
}

function atLeastNone(text: string): number {
  const value = number(text);
  if (value < 0) throw new InvalidArgumentError('Expected a number of at least 0.');
  return value;
}

function hours(text: string): number {
  const value = number(text);
  if (value > 0 && value <= 24) return value;
  throw new InvalidArgumentError('Expected a number above 0 and up to 24.');
}
