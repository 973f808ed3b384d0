import type { Command } from 'commander';
import { Problem } from '../base/problem.js';
import { openCamera, openClips } from '../jobs/open.js';
import { type AllowanceGiven, tune, USUAL_ALLOWANCE } from '../jobs/tune.js';
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
      "Replays labelled clips under every combination of the camera's dials and says which to use.",
    )
    .argument('<clip...>', 'labelled clip folders, or scene files')
    .option('--camera <file>', 'camera.json; left out: the default camera')
    .option(
      '--false-per-hour <n>',
      `false triggers to put up with, per watched hour (${USUAL_ALLOWANCE} if left out)`,
      atLeastNone,
    )
    .option('--photos-per-day <n>', 'or: photos of nothing to put up with, per day out', atLeastNone)
    .option('--hours-out <n>', 'hours a day that the camera is out, for --photos-per-day', hours)
    .option('--recorded-only', 'leave out weather that nobody recorded, instead of simulating it')
    .option('--seed <text>', 'what simulated weather follows from', '1')
    .option('--report <file>', 'also write one HTML file with figures and pictures')
    .option(...FORCE)
    .option('--json', 'one JSON document on standard output')
    .action(run);
}

async function run(paths: string[], options: Options): Promise<void> {
  const allowance = allowanceFrom(options);
  const ports = await terminalPorts();
  const camera = await openCamera(options.camera);
  const { report } = await openOutputs(
    { report: options.report },
    [options.camera, ...paths],
    options,
    ports,
  );
  const clips = await openClips(paths, ports);
  const { recordedOnly = false, seed } = options;
  const result = await tune({ clips, camera, allowance, recordedOnly, seed }, ports);
  if (report) {
    const { settings } = result.recommended;
    const shown = clips.map((clip) => ({ clip }));
    await report.write(await reportOf({ camera, settings, clips: shown, tuned: result }, ports));
  }
  print(
    options,
    ports,
    () => result,
    () => tuneText(result, clips, camera),
  );
}

/** The allowance, from either way of saying it. */
function allowanceFrom({ falsePerHour, photosPerDay, hoursOut }: Options): AllowanceGiven | undefined {
  const wrong = (text: string): never => {
    throw new Problem('usage', text);
  };
  if (photosPerDay === undefined) {
    if (hoursOut !== undefined)
      wrong('--hours-out: expected together with --photos-per-day; add it or leave both out');
    return falsePerHour === undefined ? undefined : { falsePerHour };
  }
  if (falsePerHour !== undefined) {
    wrong(
      '--photos-per-day and --false-per-hour: expected one of the two, for both say the same; leave one out',
    );
  }
  if (hoursOut === undefined) {
    return wrong('--photos-per-day: expected with the hours a day that the camera is out; add --hours-out');
  }
  return { photosPerDay, hoursOut };
}

const atLeastNone = between(0, 1_000_000, 'a number');
const hours = between(0.01, 24, 'a number of hours');
