import type { Command } from 'commander';
import { tellingPlaces } from '../jobs/ports.js';
import { replay, replayDocument, resultOf } from '../jobs/replay.js';
import { examples } from './examples.js';
import { CAMERA, CLIPS_OR_PROJECT, JSON_OUT, SETTINGS, SITE } from './options.js';
import { FORCE, openOutputs } from './outputs.js';
import { print } from './print.js';
import { terminalPorts } from './progress.js';
import { clipsOf, settingsInUse, spotsOf } from './project.js';
import { replayText, type SpotReplayed } from './replay-text.js';

interface Options {
  camera?: string;
  settings?: string;
  site?: string;
  report?: string;
  force?: true;
  json?: true;
}

export function addReplay(program: Command): void {
  program
    .command('replay')
    .description('Replays clips under one group of settings and compares the triggers with your labels.')
    .argument('[clip...]', CLIPS_OR_PROJECT)
    .option(...SETTINGS)
    .option(...CAMERA)
    .option(...SITE)
    .option('--report <file>', 'also write one HTML file with pictures')
    .option(...FORCE)
    .option(...JSON_OUT)
    .addHelpText(
      'after',
      examples([
        ['replay my-clip --settings now.json', 'what the settings you use now do'],
        ['replay', 'in the folder of a project: what those in use at each of its spots do'],
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
  const { spots, reads } = await spotsOf('replay', { ...options, clips: paths }, ports);
  const settings = spots.map(settingsInUse);
  const { report } = await openOutputs({ report: options.report }, reads, options, ports);
  const clips = await clipsOf(spots, ports);
  const told = tellingPlaces(
    ports,
    clips.flat().map(({ dir }) => dir),
  );
  const replayed: SpotReplayed[] = [];
  for (const [i, { site, camera }] of spots.entries()) {
    replayed.push({
      site,
      camera,
      settings: settings[i]!,
      result: await replay({ clips: clips[i]!, camera, settings: settings[i]! }, told),
    });
  }
  if (report) {
    // Loaded only where it is asked for: what draws takes longer to load than all the rest.
    const { reportOf } = await import('../report/report.js');
    const groups = replayed.map(({ site, camera, result }, i) => ({
      site,
      camera,
      settings: settings[i]!,
      clips: clips[i]!.map((clip, c) => ({
        clip,
        triggers: result.clips[c]!.triggers.map(({ time }) => time),
      })),
    }));
    await report.write(await reportOf({ camera: spots[0]!.camera, groups }, told));
  }
  print(
    options,
    ports,
    () => replayDocument(resultOf(replayed.flatMap(({ result }) => result.clips))),
    () => replayText(replayed),
  );
}
