import { mkdir, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Command } from 'commander';
import { defaultCamera } from '../camera/default.js';
import type { Clip } from '../clip/open.js';
import { diagnose } from '../diagnose/diagnose.js';
import { writeAtomic } from '../files/atomic.js';
import { diagnosisData } from '../jobs/diagnose/data.js';
import { openCache, openClips } from '../jobs/open.js';
import { eveningSheet } from '../report/demo-sheet.js';
import { writeReport } from '../report/report.js';
import { gridFor } from '../sweep/for-camera.js';
import type { TuneResult } from '../tune/tune.js';
import { explain } from '../words/explain.js';
import { diagnosisSummary } from './diagnose-text.js';
import { Phases } from './progress.js';
import { fold, strong } from './terminal.js';
import { tuneClips } from './tune.js';
import { tuneText, weatherText } from './tune-text.js';

/** The demo's weather is hard: with fewer, nearly nothing would be caught. */
const DEMO_ALLOWANCE = 30;
const SEED = '1';
/** What an owner has who recorded one calm morning. */
const CALM = 'log-pile-calm';
const SCENES = fileURLToPath(new URL('../../clips/', import.meta.url));

export function addDemo(program: Command): void {
  program
    .command('demo')
    .summary('renders the demo clips and runs the whole job on them')
    .description(
      'Draws the demo clips (kept for next time), tunes the default camera on them and writes the result.',
    )
    .argument('[dir]', 'where to put the results; left out: the cache')
    .option('--json', 'one JSON document on standard output')
    .action(run);
}

async function run(dir: string | undefined, options: { json?: true }): Promise<void> {
  const cache = await openCache();
  const out = dir ?? cache.path('demo');
  await mkdir(out, { recursive: true });
  const scenes = (await readdir(SCENES)).filter((name) => name.endsWith('.json')).sort();
  const clips = await openClips(
    scenes.map((name) => join(SCENES, name)),
    cache,
  );
  for (const [i, clip] of clips.entries()) clip.dir = scenes[i]!.replace(/\.json$/, '');

  const camera = defaultCamera;
  const grid = gridFor(camera);
  const result = await tuneClips(clips, camera, grid, DEMO_ALLOWANCE, cache, SEED);
  const { settings } = result.recommended;
  const progress = new Phases();
  const diagnosis = await diagnose(
    clips,
    camera,
    { ...settings, warnings: [] },
    {
      cache,
      onPhase: progress.begin,
      onProgress: progress.update,
    },
  );
  progress.end();
  const calm = clips.filter((clip) => clip.dir === CALM);
  const fromCalm = await tuneClips(calm, camera, grid, DEMO_ALLOWANCE, cache, SEED);
  const save = (name: string, value: unknown) =>
    writeAtomic(join(out, name), `${JSON.stringify(value, null, 2)}\n`);
  await save('camera.json', camera);
  await save('recommended.json', settings);
  await save('tune.json', result);
  await save('tune-from-calm.json', fromCalm);
  await save('diagnosis.json', diagnosisData(diagnosis));
  await writeAtomic(join(out, 'sheet.jpg'), await eveningSheet(clips, camera, settings, cache));

  const report = (name: string, title: string, shown: readonly Clip[], tuned: TuneResult) =>
    writeReport(join(out, name), {
      title,
      camera,
      settings: tuned.recommended.settings,
      clips: shown.map((clip) => ({ clip })),
      cache,
      tuned: { result: tuned, words: explain(tuned) },
    });
  await report('report.html', 'The demo: six clips of an allotment on an estuary, drawn', clips, result);
  await report(
    'report-from-calm.html',
    'The demo: one calm clip, other weather simulated on it',
    calm,
    fromCalm,
  );

  await writeReport(join(out, 'diagnosis.html'), {
    title: 'The demo: why the recommended settings fire at nothing, and what they miss',
    camera,
    settings,
    clips: clips.map((clip) => ({ clip })),
    cache,
    diagnosis,
  });

  if (options.json) {
    process.stdout.write(`${JSON.stringify(result, null, 2)}\n`);
    return;
  }
  process.stdout.write(`${tuneText(result, clips, camera, grid)}\n\n`);
  process.stdout.write(`${strong('Why these settings fire at nothing, and what they miss')}\n\n`);
  process.stdout.write(`${diagnosisSummary(diagnosis, { camera, settings, mask: [] })}\n\n`);
  process.stdout.write(
    `${strong(`And had only ${CALM} been recorded, with the other weather simulated on it`)}\n\n`,
  );
  process.stdout.write(`${weatherText(fromCalm)}\n\n${strong('Files')}\n`);
  const lines = [
    ['report.html', 'all of it as one page with pictures: open it in a browser'],
    ['report-from-calm.html', 'the same from the calm clip alone, other weather simulated'],
    ['diagnosis.html', 'each false trigger and each missed visit explained, with pictures'],
    ['recommended.json', 'the settings above, for replay'],
    ['camera.json', 'the camera they are for'],
    ['tune.json', 'all of the above as data'],
    ['tune-from-calm.json', 'the same for the calm clip alone'],
    ['diagnosis.json', 'what fired it and what would help, as data'],
    ['sheet.jpg', 'what it caught, what it missed, what it fired at for nothing'],
  ];
  for (const [name, what] of lines) process.stdout.write(`  ${join(out, name as string)}   ${what}\n`);
  process.stdout.write(`  ${cache.path('scenes')}   the clips it was tuned on\n\n`);
  process.stdout.write(
    `${fold('The demo is drawn, not filmed: its figures say how the program works, not how a camera will do in your garden.')}\n`,
  );
}
