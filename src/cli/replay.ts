import type { Command } from 'commander';
import { openCamera, openClips, openSettings } from '../jobs/open.js';
import { tellingPlaces } from '../jobs/ports.js';
import { replay, replayDocument } from '../jobs/replay.js';
import { reportOf } from '../report/report.js';
import { examples } from './examples.js';
import { FORCE, openOutputs } from './outputs.js';
import { print } from './print.js';
import { terminalPorts } from './progress.js';
import { replayText } from './replay-text.js';

interface Options {
  camera?: string;
  settings: string;
  report?: string;
  force?: true;
  json?: true;
}

export function addReplay(program: Command): void {
  program
    .command('replay')
    .summary('one group of settings, scored')
    .description('Replays clips under one group of settings and holds the triggers against hand labels.')
    .argument('<clip...>', 'clip folders, or scene files')
    .requiredOption('--settings <file>', 'settings.json: engine values, or dial positions under "controls"')
    .option('--camera <file>', 'camera.json; left out: the default camera')
    .option('--report <file>', 'also write one HTML file with pictures')
    .option(...FORCE)
    .option('--json', 'one JSON document on standard output')
    .addHelpText(
      'after',
      examples([
        ['replay my-clip --settings now.json', 'what the settings you use now do'],
        [
          'replay calm windy --camera camera.json --settings now.json --report now.html',
          'on several clips of your own camera, with pictures',
        ],
      ]),
    )
    .action(run);
}

async function run(paths: string[], options: Options): Promise<void> {
  const ports = await terminalPorts();
  const camera = await openCamera(options.camera);
  const settings = await openSettings(options.settings, camera, ports);
  const { report } = await openOutputs(
    { report: options.report },
    [options.camera, options.settings, ...paths],
    options,
    ports,
  );
  const clips = await openClips(paths, ports);
  const told = tellingPlaces(
    ports,
    clips.map(({ dir }) => dir),
  );
  const result = await replay({ clips, camera, settings }, told);
  if (report) {
    const shown = clips.map((clip, i) => ({
      clip,
      triggers: result.clips[i]!.triggers.map(({ time }) => time),
    }));
    await report.write(await reportOf({ camera, groups: [{ settings, clips: shown }] }, told));
  }
  print(
    options,
    ports,
    () => replayDocument(result),
    () => replayText(result, camera),
  );
}
