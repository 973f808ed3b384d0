import { join } from 'node:path';
import type { Command } from 'commander';
import { Problem } from '../base/problem.js';
import { printedJson } from '../base/text.js';
import { openOutput, writeTogether } from '../files/output.js';
import { openOutputFolder } from '../files/output-folder.js';
import { MOST_PHOTOS } from '../jobs/fit/fired-given.js';
import { fitDocument, fit as fitTo } from '../jobs/fit.js';
import { openCamera } from '../jobs/open.js';
import { examples } from './examples.js';
import { fitText } from './fit-text.js';
import { between, wholeBetween } from './numbers.js';
import { JSON_OUT } from './options.js';
import { FORCE, openOutputs, rulesFor } from './outputs.js';
import { print } from './print.js';
import { terminalPorts } from './progress.js';

interface Options {
  fired: string;
  camera?: string;
  settings?: string;
  tolerance?: number;
  photos?: number;
  report?: string;
  write?: string;
  force?: true;
  json?: true;
}

export function addFit(program: Command): void {
  program
    .command('fit')
    .description(
      'Takes a continuous recording and the times at which the real camera fired meanwhile, and finds the description and settings that fire at the same moments. A camera of another make needs its own recording.',
    )
    .argument('<clip>', 'a clip folder, or a scene file: all that happened while the camera was watching')
    .requiredOption(
      '--fired <file or folder>',
      'when it fired: a JSON array or a one-column CSV of seconds from the start of the clip or of dates and times, or the folder of its photos',
    )
    .option(
      '--camera <file>',
      'what is known of the camera: its rate, dials, lens, power, and as a first guess its size of analysis',
    )
    .option(
      '--settings <file>',
      'with --camera: how its dials stood meanwhile, to see how the two fire as they are; default: its dials are turned to where they fit best',
    )
    .option(
      '--photos <n>',
      'how many photos the camera takes at each trigger; default: as the photos show it, or else as camera.json has it',
      wholeBetween(1, MOST_PHOTOS, 'a whole number of photos'),
    )
    .option(
      '--tolerance <seconds>',
      'how far off a predicted time may be; default: as far as the times are rounded',
      between(0.001, 60, 'a number of seconds'),
    )
    .option(
      '--report <file>',
      'also write one HTML file: its times against those of the camera, and what explains them',
    )
    .option('--write <dir>', 'also write camera.json and settings.json into this folder')
    .option(...FORCE)
    .option(...JSON_OUT)
    .addHelpText(
      'after',
      examples([
        ['fit my-clip --fired DCIM --write fitted', 'from the photos that the camera took'],
        [
          'fit my-clip --fired fired.csv --camera camera.json',
          'from a list of times, with the dials that are known',
        ],
      ]),
    )
    .action(run);
}

async function run(clip: string, options: Options): Promise<void> {
  const ports = await terminalPorts();
  const { fired, camera: file, settings, tolerance, photos, write } = options;
  const camera = file === undefined ? undefined : await openCamera(file);
  if (write !== undefined) await openOutputFolder('--write', write);
  const reads = [clip, fired, file, settings];
  const rules = rulesFor(reads, options, ports);
  const { report } = await openOutputs({ report: options.report }, reads, options, ports);
  const named = (name: string) =>
    write === undefined ? null : openOutput('--write', join(write, name), rules);
  const [cameraFile, settingsFile] = [await named('camera.json'), await named('settings.json')];
  if (report && [cameraFile, settingsFile].some((output) => output?.file === report.file)) {
    throw new Problem('usage', `--report ${report.path}: --write writes that file; choose another name`);
  }
  const result = await fitTo({ clip, fired, camera, settings, tolerance, photos }, ports);
  const document = fitDocument(result);
  const isTold = result.tells === 'enough';
  const files = [
    [cameraFile, document.camera],
    [settingsFile, document.settings],
  ] as const;
  const wanted = files.flatMap(([output, content]) =>
    output && isTold ? [[output, printedJson(content)] as const] : [],
  );
  const say = (written: readonly string[]) => {
    print(
      options,
      ports,
      () => document,
      () => fitText(result, written),
    );
  };
  try {
    // Loaded only where it is asked for: what draws takes long to load.
    const html = report && (await import('../report/fit-report.js')).fitReportHtml(result);
    await writeTogether([...wanted, ...(report && html !== null ? [[report, html] as const] : [])]);
  } catch (error) {
    // What took minutes to find is told all the same.
    say([]);
    throw error;
  }
  const written = [...(report ? [report.path] : []), ...wanted.map(([{ path }]) => path)];
  if (write !== undefined && !isTold) {
    ports.onWarning(`${clip}: too little to tell, so nothing is written into ${write}`);
  }
  say(written);
}
