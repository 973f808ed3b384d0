import type { Command } from 'commander';
import { Problem } from '../base/problem.js';
import { openCamera, openClips, openSettings } from '../jobs/open.js';
import { tune, tuneDocument, USUAL_WORTH, type Wanted } from '../jobs/tune.js';
import { reportOf } from '../report/report.js';
import { between } from './numbers.js';
import { FORCE, openOutputs } from './outputs.js';
import { print } from './print.js';
import { terminalPorts } from './progress.js';
import { tuneText } from './tune-text.js';

interface Options {
  camera?: string;
  falsePerHour?: number;
  photosPerDay?: number;
  hoursOut?: number;
  sure?: number;
  worth?: number;
  now?: string;
  together?: true;
  recordedOnly?: true;
  seed: string;
  report?: string;
  force?: true;
  json?: true;
}

export function addTune(program: Command): void {
  program
    .command('tune')
    .summary('tries every setting the camera offers, recommends; needs labels')
    .description(
      "Replays labelled clips under every combination of the camera's dials and says for each site which to use.",
    )
    .argument('<clip...>', 'labelled clip folders, or scene files')
    .option('--camera <file>', 'camera.json; left out: the default camera')
    .option(
      '--worth <n>',
      `photos of nothing that one more visit is worth looking through (${USUAL_WORTH} if nothing is said)`,
      atLeastNone,
    )
    .option('--false-per-hour <n>', 'or: false triggers to put up with, per watched hour', atLeastNone)
    .option('--photos-per-day <n>', 'or: photos of nothing to put up with, per day out', atLeastNone)
    .option('--hours-out <n>', 'hours a day that the camera is out, for --photos-per-day', hours)
    .option(
      '--sure <p>',
      'keep that allowance with this probability on footage like this, such as 0.9',
      between(0.5, 0.99, 'a probability'),
    )
    .option('--now <file>', 'settings.json that you use today, to hold against what is recommended')
    .option('--together', 'all sites as one')
    .option('--recorded-only', 'leave out weather that nobody recorded, instead of simulating it')
    .option('--seed <text>', 'what simulated weather follows from', '1')
    .option('--report <file>', 'also write one HTML file with figures and pictures')
    .option(...FORCE)
    .option('--json', 'one JSON document on standard output')
    .action(run);
}

async function run(paths: string[], options: Options): Promise<void> {
  const wanted = wantedFrom(options);
  const ports = await terminalPorts();
  const camera = await openCamera(options.camera);
  const now = options.now === undefined ? undefined : await openSettings(options.now, camera, ports);
  const { report } = await openOutputs(
    { report: options.report },
    [options.camera, options.now, ...paths],
    options,
    ports,
  );
  const clips = await openClips(paths, ports);
  const { recordedOnly = false, together = false, seed } = options;
  const result = await tune({ clips, camera, wanted, now, together, recordedOnly, seed }, ports);
  if (report) {
    const groups = result.sites.map((tuned) => ({
      settings: tuned.recommended.settings,
      clips: clips.filter(({ dir }) => tuned.clips.includes(dir)).map((clip) => ({ clip })),
      tuned,
    }));
    await report.write(await reportOf({ camera, groups }, ports));
  }
  print(
    options,
    ports,
    () => tuneDocument(result),
    () => tuneText(result, camera),
  );
}

/** What is wanted, said in one of three ways. */
function wantedFrom({ falsePerHour, photosPerDay, hoursOut, worth, sure }: Options): Wanted | undefined {
  const wrong = (text: string): never => {
    throw new Problem('usage', text);
  };
  const ways = [
    ['--photos-per-day', photosPerDay],
    ['--false-per-hour', falsePerHour],
    ['--worth', worth],
  ].filter(([, value]) => value !== undefined);
  if (ways.length > 1) {
    const names = ways.map(([name]) => name).join(' and ');
    wrong(`${names}: expected one of them, for each says by itself what is wanted; leave the others out`);
  }
  if (photosPerDay === undefined && hoursOut !== undefined) {
    wrong('--hours-out: expected together with --photos-per-day; add it or leave both out');
  }
  if (sure !== undefined && photosPerDay === undefined && falsePerHour === undefined) {
    wrong(
      '--sure: expected together with --false-per-hour or --photos-per-day, for it is an allowance that is kept; add one',
    );
  }
  if (photosPerDay !== undefined) {
    return hoursOut === undefined
      ? wrong('--photos-per-day: expected with the hours a day that the camera is out; add --hours-out')
      : { photosPerDay, hoursOut, sure };
  }
  if (falsePerHour !== undefined) return { falsePerHour, sure };
  return worth === undefined ? undefined : { worth };
}

const atLeastNone = between(0, 1_000_000, 'a number');
const hours = between(0.01, 24, 'a number of hours');
