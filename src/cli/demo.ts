import { join } from 'node:path';
import type { Command } from 'commander';
import { plural } from '../base/figures.js';
import { Problem } from '../base/problem.js';
import type { Needs } from '../diagnose/diagnosis.js';
import { unwritable } from '../files/faults.js';
import { makeFolders } from '../files/folder.js';
import { type Output, openOutput } from '../files/output.js';
import type { DemoResult, OwnWeather } from '../jobs/demo.js';
import { diagnosisDocument } from '../jobs/diagnose.js';
import { tellingPlaces } from '../jobs/ports.js';
import { type SiteResult, tuneDocument } from '../jobs/tune.js';
import type { Score } from '../score/score.js';
import { madeIn } from '../store/made.js';
import {
  alike,
  differing,
  fewerPhotosText,
  photosOfNothing,
  siteName,
  tooManyText,
  withMask,
} from '../words/answer.js';
import { isAdvised, needsText } from '../words/change-wording.js';
import { sentence } from '../words/diagnosis-wording.js';
import { endsText } from '../words/dial-ends.js';
import { clock, dialsText, figure } from '../words/ratios.js';
import { examples } from './examples.js';
import { JSON_OUT } from './options.js';
import { FORCE } from './outputs.js';
import { print } from './print.js';
import { type TerminalPorts, terminalPorts } from './progress.js';
import { fold, item, strong, table } from './terminal.js';

export function addDemo(program: Command): void {
  program
    .command('demo')
    .description(
      'Draws the demo clips (kept for next time), tunes the default camera on them and writes the result.',
    )
    .argument('[dir]', 'where to put the results; default: the cache')
    .option(...FORCE)
    .option(...JSON_OUT)
    .addHelpText(
      'after',
      examples([
        ['demo', 'everything on drawn clips, results into the cache'],
        ['demo results', 'the same, results into a folder'],
      ]),
    )
    .action(run);
}

async function run(dir: string | undefined, options: { force?: true; json?: true }): Promise<void> {
  // Loaded only where it is run, for whoever asks for help waits for it otherwise.
  const { demo } = await import('../jobs/demo.js');
  const ports = await terminalPorts();
  const { cache } = ports;
  if (dir === undefined && cache.insteadOf !== null) {
    throw new Problem(
      'usage',
      'demo: expected a folder to put the results in, because the cache cannot be written; name one: demo DIR',
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
  await writeAll(
    outputs,
    result,
    tellingPlaces(
      ports,
      result.clips.map(({ dir }) => dir),
    ),
  );
  print(
    options,
    ports,
    () => tuneDocument(result.tuned),
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
  { camera, clips, tuned, diagnosis }: DemoResult,
  ports: TerminalPorts,
): Promise<void> {
  const [{ demoSheet }, { reportOf }] = await Promise.all([
    import('../report/demo-sheet.js'),
    import('../report/report.js'),
  ]);
  const write = async (name: (typeof files)[number][0], content: string | Uint8Array) =>
    outputs.get(name)?.write(content);
  const save = (name: (typeof files)[number][0], value: unknown) =>
    write(name, `${JSON.stringify(value, null, 2)}\n`);
  const groups = tuned.sites.map((site) => ({
    settings: site.recommended.settings,
    clips: clips.filter(({ dir }) => site.clips.includes(dir)).map((clip) => ({ clip })),
    tuned: site,
  }));
  await save('camera.json', camera);
  await save('tune.json', tuneDocument(tuned));
  await save('diagnosis.json', diagnosisDocument(diagnosis));
  await write('sheet.jpg', await demoSheet(groups, camera, ports.cache));
  const title = 'The demo: three spots on an allotment by an estuary, drawn';
  await write('report.html', await reportOf({ title, camera, groups }, ports));
  const why = {
    title: 'The demo: what the dials at their middle miss, and why they fire falsely',
    camera,
    groups: [
      {
        settings: tuned.sites[0]!.now.settings,
        clips: clips.filter(({ dir }) => dir === diagnosis.clips[0]?.clip).map((clip) => ({ clip })),
      },
    ],
    diagnosis,
  };
  await write('diagnosis.html', await reportOf(why, ports));
}

const files = [
  ['report.html', 'each spot, its dials, its photos: open it in a browser'],
  ['diagnosis.html', 'what the dials at their middle miss, and why'],
  ['sheet.jpg', 'what it caught, what it missed, what it fired at falsely'],
  ['camera.json', 'the camera, to start your own from'],
  ['tune.json', 'all of it as data'],
  ['diagnosis.json', 'that as data'],
] as const;

/** Room for the name of a spot. */
const NAME = 17;

function asText(result: DemoResult, out: string, scenes: string): string {
  const { camera, clips, tuned, ownWeather } = result;
  const seconds = clips.reduce((sum, clip) => sum + clip.seconds, 0);
  const middle = tuned.sites[0]!.now;
  const photos = (score: Score) => {
    const nothing = photosOfNothing(score, camera);
    return nothing === null ? '-' : figure(nothing);
  };
  const caught = ({ caught: n, visits }: Score) => `${n} of ${visits}`;
  const rows = tuned.sites.map((site) => [
    siteName(site),
    caught(middleOf(site)),
    photos(middleOf(site)),
    caught(site.recommended.score),
    photos(site.recommended.score),
  ]);
  const ends = endsText(tuned.sites);
  const { same, differ } = alike(tuned.sites.map(({ recommended }) => recommended.controls));
  return [
    fold(
      `${clips.length} clips of three spots in all weathers, ${clock(seconds)} long; ${tuned.sites[0]!.searched} groups of settings tried at each spot. One more visit is taken to be worth ${tuned.sites[0]!.worth?.photos ?? 0} photos of nothing.`,
    ),
    [
      strong('Visits caught, and photos of nothing a day'),
      table(['', 'dials at middle', 'photos', 'recommended', 'photos'], rows),
      ...tuned.sites.map((site) =>
        item(siteName(site), `${differing(site.recommended.controls, differ)}${withMask(site)}`, NAME),
      ),
      ...(Object.keys(same).length > 0 ? [item('everywhere', dialsText(same), NAME)] : []),
      item('dials at middle', dialsText(middle.controls ?? {}), NAME),
      ...(ends ? [fold(ends)] : []),
      ...(tooManyText(tuned.sites, () => camera, fewerPhotosText()) ? [fewerPhotosText()] : []),
    ].join('\n'),
    ...missedBird(result),
    ...(ownWeather ? [fold(inItsOwnWeather(ownWeather))] : []),
    [
      `${strong('Files')} in ${out}`,
      ...files.map(([name, what]) => `  ${name.padEnd(NAME)}${what}`),
      `  the clips it was tuned on are in ${scenes}`,
    ].join('\n'),
    fold(
      'The demo is drawn, not filmed: its figures say how the program works, not how a camera will do in your garden.',
    ),
  ].join('\n\n');
}

function middleOf({ now }: SiteResult): Score {
  return now.score;
}

/** A visit that the dials at their middle missed, and the one dial that catches it. */
function missedBird({ camera, diagnosis, tuned }: DemoResult): string[] {
  const settings = tuned.sites[0]!.now.settings;
  const missed = diagnosis.clips.flatMap(({ clip, missed: visits }) =>
    visits.map((visit) => ({ clip, ...visit })),
  );
  const turned = (needs: Needs) =>
    Object.entries(needs.controls ?? {}).filter(([dial, at]) => tuned.sites[0]!.now.controls?.[dial] !== at)
      .length;
  const [cheapest] = missed
    .flatMap((visit) =>
      visit.needs?.controls && isAdvised(visit.needs) && visit.name ? [{ ...visit, needs: visit.needs }] : [],
    )
    .sort((a, b) => turned(a.needs) - turned(b.needs) || a.needs.falseAdded - b.needs.falseAdded);
  if (!cheapest) return [];
  const { clip, start, end, name, evidence, needs } = cheapest;
  return [
    [
      strong('One that was missed, and the dial that catches it'),
      item(
        name ?? '',
        `${clip} at ${clock(start)}-${clock(end)}. ${sentence(evidence)} ${needsText(needs, { camera, settings, mask: [] })}`,
        NAME,
      ),
    ].join('\n'),
  ];
}

function inItsOwnWeather({ site, condition, visits, pooled, own, controls, masked }: OwnWeather): string {
  const held = site.weather?.worthIt
    ? 'On footage left out, changing was worth it.'
    : 'On footage left out, changing was not shown to be worth it.';
  return `One group of settings for all spots catches ${pooled.caught} of ${visits} at the ${siteName(site)} in ${condition}, with ${plural(pooled.falseTriggers, 'false trigger')}; settings of its own (${dialsText(controls)}${masked ? ', with the mask' : ''}) catch ${own.caught} of ${visits}, with ${plural(own.falseTriggers, 'false trigger')}. ${held}`;
}
