import { type Command, Option } from 'commander';
import { Problem } from '../base/problem.js';
import { budget, budgetDocument } from '../jobs/budget.js';
import { budgetText } from './budget-text.js';
import { examples } from './examples.js';
import { between } from './numbers.js';
import { CAMERA_ALONE, JSON_OUT } from './options.js';
import { print } from './print.js';
import { terminalPorts } from './progress.js';
import { cameraFileFor, projectFor } from './project.js';

interface Options {
  camera?: string;
  photosPerHour?: number;
  from?: string;
  site?: string;
  hoursOut?: number;
  photos?: string;
  json?: true;
}

export function addBudget(program: Command): void {
  program
    .command('budget')
    .description(
      'Says how long battery and card last, which of them ends first, and how many photos there are to look through each evening. Power and photo sizes come from camera.json; for whatever it leaves out a usual value is taken, and named.',
    )
    .option(...CAMERA_ALONE)
    .option(
      '--photos-per-hour <n>',
      'photos an hour, not triggers',
      between(0, 100_000, 'a number of photos'),
    )
    .addOption(
      new Option(
        '--from <file>',
        'what tune --json or plan --json printed, for the photos an hour of the settings it recommends',
      ).conflicts('photosPerHour'),
    )
    .option(
      '--site <name>',
      'with --from: which of its sites, where it has several; in the folder of a project: whose camera',
    )
    .option(
      '--hours-out <n>',
      'hours a day that the camera is out (default: 24)',
      between(0.01, 24, 'a number of hours'),
    )
    .option('--photos <folder>', 'your own photos, to measure how large they are')
    .option(...JSON_OUT)
    .addHelpText(
      'after',
      examples([
        ['budget --camera camera.json --photos-per-hour 40 --hours-out 12', 'at 40 photos an hour, by day'],
        [
          'budget --camera camera.json --from tune.json --photos DCIM',
          'with what tune foretold, and your own photos',
        ],
      ]),
    )
    .action(run);
}

async function run({ camera, photosPerHour, from, site, hoursOut, photos, json }: Options): Promise<void> {
  const ports = await terminalPorts();
  if (site !== undefined && from === undefined && (camera !== undefined || !(await projectFor([])))) {
    throw new Problem(
      'usage',
      '--site: expected together with --from, whose sites it chooses from, or with those of a project; add it',
    );
  }
  const file = await cameraFileFor({ camera, site }, ports);
  const result = await budget(
    {
      ...(file !== undefined && { camera: file }),
      photosPerHour: from === undefined ? photosPerHour : { from, site },
      hoursOut,
      photos,
    },
    ports,
  );
  print(
    json ? { json } : {},
    ports,
    () => budgetDocument(result),
    () => budgetText(result),
  );
}
