import { join } from 'node:path';
import type { Command } from 'commander';
import { Problem } from '../base/problem.js';
import { unwritable } from '../files/faults.js';
import { makeFolders } from '../files/folder.js';
import { type Output, openOutput } from '../files/output.js';
import { type DemoResult, demo } from '../jobs/demo.js';
import { diagnosisDocument } from '../jobs/diagnose.js';
import { demoSheet } from '../report/demo-sheet.js';
import { reportOf } from '../report/report.js';
import { madeIn } from '../store/made.js';
import { diagnosisSummary } from './diagnose-text.js';
import { FORCE } from './outputs.js';
import { print } from './print.js';
import { type TerminalPorts, terminalPorts } from './progress.js';
import { fold, strong } from './terminal.js';
import { tuneText, weatherText } from './tune-text.js';

export function addDemo(program: Command): void {
  program
    .command('demo')
    .summary('renders the demo clips and runs the whole job on them')
    .description(
      'Draws the demo clips (kept for next time), tunes the default camera on them and writes the result.',
    )
    .argument('[dir]', 'where to put the results; left out: the cache')
    .option(...FORCE)
    .option('--json', 'one JSON document on standard output')
    .action(run);
}

async function run(dir: string | undefined, options: { force?: true; json?: true }): Promise<void> {
  const ports = await terminalPorts();
  const { cache } = ports;
  if (dir === undefined && cache.temporary) {
    throw new Problem(
      'usage',
      'demo: expected a folder to put the results in, for the cache cannot be written; name one: demo DIR',
    );
  }
  const out = dir ?? cache.path('demo');
  if (out.trim() === '')
    throw new Problem('usage', 'demo: expected the name of a folder, found an empty one');
  await makeFolder(out);
  const rules = { reads: [], force: options.force ?? false, made: madeIn(cache) };
  const outputs = new Map<string, Output>();
  for (const [name] of files) outputs.set(name, await openOutput('demo', join(out, name), rules));
  const result = await demo(ports);
  // The cache may have been emptied meanwhile.
  await makeFolder(out);
  await writeAll(outputs, result, ports);
  print(
    options,
    ports,
    () => result.tuned,
    () => asText(result, out, ports.cache.path('scenes')),
  );
}

async function makeFolder(path: string): Promise<void> {
  await makeFolders(path).catch((error) => {
    throw unwritable(path, error);
  });
}

async function writeAll(
  outputs: ReadonlyMap<string, Output>,
  result: DemoResult,
  ports: TerminalPorts,
): Promise<void> {
  const { camera, clips, tuned, diagnosis, calm, fromCalm } = result;
  const { settings } = tuned.recommended;
  const write = async (name: (typeof files)[number][0], content: string | Uint8Array) =>
    outputs.get(name)?.write(content);
  const save = (name: (typeof files)[number][0], value: unknown) =>
    write(name, `${JSON.stringify(value, null, 2)}\n`);
  await save('camera.json', camera);
  await save('recommended.json', settings);
  await save('tune.json', tuned);
  await save('tune-from-calm.json', fromCalm);
  await save('diagnosis.json', diagnosisDocument(diagnosis));
  await write('sheet.jpg', await demoSheet(clips, camera, settings, ports.cache));

  const all = clips.map((clip) => ({ clip }));
  const alone = calm.map((clip) => ({ clip }));
  await write(
    'report.html',
    await reportOf(
      {
        title: 'The demo: six clips of an allotment on an estuary, drawn',
        camera,
        settings,
        clips: all,
        tuned,
      },
      ports,
    ),
  );
  await write(
    'report-from-calm.html',
    await reportOf(
      {
        title: 'The demo: one calm clip, other weather simulated on it',
        camera,
        settings: fromCalm.recommended.settings,
        clips: alone,
        tuned: fromCalm,
      },
      ports,
    ),
  );
  await write(
    'diagnosis.html',
    await reportOf(
      {
        title: 'The demo: why the recommended settings fire falsely, and what they miss',
        camera,
        settings,
        clips: all,
        diagnosis,
      },
      ports,
    ),
  );
}

const files = [
  ['report.html', 'all of it as one page with pictures: open it in a browser'],
  ['report-from-calm.html', 'the same from the calm clip alone, other weather simulated'],
  ['diagnosis.html', 'each false trigger and each missed visit explained, with pictures'],
  ['recommended.json', 'the settings above, for replay'],
  ['camera.json', 'the camera they are for'],
  ['tune.json', 'all of the above as data'],
  ['tune-from-calm.json', 'the same for the calm clip alone'],
  ['diagnosis.json', 'what fired it and what would help, as data'],
  ['sheet.jpg', 'what it caught, what it missed, what it fired at for nothing'],
] as const;

function asText(
  { camera, clips, tuned, diagnosis, calm, fromCalm }: DemoResult,
  out: string,
  scenes: string,
): string {
  const { settings } = tuned.recommended;
  return [
    tuneText(tuned, clips, camera),
    strong('Why these settings fire falsely, and what they miss'),
    diagnosisSummary(diagnosis, { camera, settings, mask: [] }),
    strong(
      `And had only ${calm.map(({ dir }) => dir).join()} been recorded, with the other weather simulated on it`,
    ),
    weatherText(fromCalm),
    [
      strong('Files'),
      ...files.map(([name, what]) => `  ${join(out, name)}   ${what}`),
      `  ${scenes}   the clips it was tuned on`,
    ].join('\n'),
    fold(
      'The demo is drawn, not filmed: its figures say how the program works, not how a camera will do in your garden.',
    ),
  ].join('\n\n');
}
