import type { Command } from 'commander';
import { Problem } from '../base/problem.js';
import { PROJECT, type Project } from '../files/project.js';
import { type OpenPorts, tellingPlaces } from '../jobs/ports.js';
import { type CameraNamed, calledApart, camerasNamed } from '../jobs/tune/camera-names.js';
import { comparedIn } from '../jobs/tune/cameras-told.js';
import { tuneDocument, type Wanted } from '../jobs/tune.js';
import { allowanceFrom, atMostOne } from './allowance.js';
import { examples } from './examples.js';
import { atLeastNone, between, hoursADay } from './numbers.js';
import {
  CAMERA,
  CLIPS_OR_PROJECT,
  JSON_OUT,
  NOISE_FROM,
  PHOTOS_PER_DAY,
  RECORDED_ONLY,
  SEED,
  SITE,
  WORTH,
} from './options.js';
import { FORCE, openOutputs, refuseAmongWritten, rulesFor } from './outputs.js';
import { print } from './print.js';
import { terminalPorts } from './progress.js';
import { clipsOf, spotsOf } from './project.js';
import { labelledOnes, mustHaveOneCamera, tuneSpots } from './tune-spots.js';
import { tuneText } from './tune-text.js';
import { useSettings } from './use-settings.js';
import { openWriting, writeSettings, writtenText } from './write-settings.js';

interface Options {
  camera?: string[];
  falsePerHour?: number;
  photosPerDay?: number;
  lasts?: number;
  hoursOut?: number;
  sure?: number;
  worth?: number;
  now?: string;
  site?: string;
  use?: true;
  together?: true;
  recordedOnly?: true;
  doubts?: true;
  noiseFrom?: string;
  seed: string;
  report?: string;
  write?: string;
  template?: string;
  force?: true;
  json?: true;
}

export function addTune(program: Command): void {
  program
    .command('tune')
    .description(
      "Replays labelled clips under every combination of the camera's dials and says for each site which to use.",
    )
    .argument('[clip...]', `labelled ${CLIPS_OR_PROJECT}`)
    .option(
      '--camera <file>',
      `${CAMERA[1]}; given several times: each of the others is compared with the first, by its dials alone`,
      (file: string, before: string[] = []) => [...before, file],
    )
    .option(...SITE)
    .option(...WORTH)
    .option(
      '--false-per-hour <n>',
      'false triggers to put up with, per watched hour, instead of --worth',
      atLeastNone,
    )
    .option(...PHOTOS_PER_DAY)
    .option(
      '--lasts <hours>',
      'hours that the battery must last, instead of --worth (power in camera.json); all photos that it then bears may be of nothing',
      between(0.1, 100_000, 'a number of hours'),
    )
    .option(
      '--hours-out <n>',
      'hours a day that the camera is out, for --photos-per-day and for the cards of --write',
      hoursADay,
    )
    .option(
      '--sure <p>',
      'keep that allowance on footage like this with this probability, such as 0.9; if the recording is too short to show that, it says how surely instead. This costs visits: on drawn recordings of about 5 minutes, which could show 0.78 on average, 0.9 kept 60 an hour in 87 % of cases and caught 17 of 100 visits, 40 without it',
      between(0.5, 0.99, 'a probability'),
    )
    .option(
      '--now <file>',
      'the settings.json that you use today, to compare with what is recommended; default: those in use in the project',
    )
    .option('--use', 'write what is recommended into the project, as the settings in use from now on')
    .option('--together', 'treat all sites as one')
    .option(...RECORDED_ONLY)
    .option(
      '--doubts',
      'also halve and double each figure that simulated weather assumes, say which part of the rain fires the camera, and look through all of a short clip for the light in which it is blind; takes several times as long',
    )
    .option(...NOISE_FROM)
    .option(...SEED)
    .option('--report <file>', 'also write one HTML file with figures and pictures')
    .option(
      '--write <dir>',
      'also write settings files for each site and weather, and a card to print or carry along',
    )
    .option(
      '--template <file>',
      "with --write: the camera's own configuration file to fill in, where names stand in double braces",
    )
    .option(...FORCE)
    .option(...JSON_OUT)
    .addHelpText(
      'after',
      examples([
        [
          'tune my-clip windy-clip --now now.json --report report.html',
          'what to set, held against what you use now',
        ],
        ['tune my-clip --photos-per-day 50 --hours-out 16', 'at most so many photos of nothing a day'],
        [
          'tune my-clip --camera camera.json --lasts 12',
          'as many as a battery bears that must last 12 hours',
        ],
        ['tune my-clip --write set', 'and write the settings down'],
        ['tune my-clip --camera mine.json --camera smaller.json', 'would another camera serve better?'],
        ['tune --use', 'in the folder of a project: each of its spots, and use what is recommended'],
      ]),
    )
    .action(run);
}

async function run(paths: string[], options: Options): Promise<void> {
  const wanted = wantedFrom(options);
  const ports = await terminalPorts();
  const { now: settings, site } = options;
  const [camera, ...others] = options.camera ?? [];
  const { spots, project, reads } = await spotsOf('tune', { clips: paths, camera, settings, site }, ports);
  const inUse = projectToUse(options, project);
  const cameras = others.length === 0 ? [] : await camerasNamed(camera, others);
  if (cameras.length > 0) noteFirstOnly(options, cameras, ports);
  if (options.template !== undefined) mustHaveOneCamera('--template', spots);
  const allReads = [...reads, ...others, options.template, options.noiseFrom];
  const writing =
    options.write === undefined ? null : await openWriting(options.write, options.template, spots[0]!.camera);
  // Its folder may be that of the report too.
  const { report } = await openOutputs({ report: options.report }, allReads, options, ports);
  if (writing) await refuseAmongWritten('--report', report, writing.dir, writing.template?.ending);
  const open = labelledOnes(spots, await clipsOf(spots, ports), ports);
  const clips = open.flatMap(({ opened }) => opened);
  const told = tellingPlaces(
    ports,
    clips.map(({ dir }) => dir),
  );
  const { recordedOnly = false, together = false, doubts = false, noiseFrom, seed } = options;
  const { result, cameraOf } = await tuneSpots(
    open,
    { wanted, together, recordedOnly, doubts, noiseFrom, seed },
    cameras,
    told,
  );
  if (report) {
    const groups = result.sites.map((tuned) => ({
      camera: cameraOf(tuned),
      settings: tuned.recommended.settings,
      clips: clips.filter(({ dir }) => tuned.clips.includes(dir)).map((clip) => ({ clip })),
      tuned,
    }));
    // Loaded only where it is asked for: what draws takes longer to load than all the rest.
    const { reportOf } = await import('../report/report.js');
    await report.write(
      await reportOf(
        { camera: spots[0]!.camera, groups, hoursOut: options.hoursOut, cameras: comparedIn(result) },
        told,
      ),
    );
  }
  const written = writing
    ? await writeSettings(
        result.sites,
        writing,
        cameraOf,
        rulesFor(allReads, options, ports),
        async (tuned) => {
          const { cardOf } = await import('../report/card-of.js');
          return cardOf(tuned, clips, cameraOf(tuned), options.hoursOut, told);
        },
        ports.onWarning,
      )
    : [];
  if (inUse) {
    const names = open.flatMap((spot) => spot.site ?? []);
    const set = await useSettings(inUse, names, result.sites, cameraOf, ports.onWarning);
    if (set.length > 0) written.push(`${inUse.file}: settings in use at ${set.join(', ')}`);
  }
  print(
    options,
    ports,
    () => tuneDocument(result),
    () =>
      [
        tuneText(result, cameraOf, { isDoubted: doubts, hoursOut: options.hoursOut }),
        ...writtenText(written, writing !== null),
      ].join('\n\n'),
  );
}

/** What is told, and written, of the first of several cameras alone. */
function noteFirstOnly(
  { write }: Pick<Options, 'write'>,
  cameras: readonly CameraNamed[],
  { onWarning }: Pick<OpenPorts, 'onWarning'>,
): void {
  const first = calledApart(cameras)[0];
  onWarning(
    `${cameras.length} cameras are compared by their dials; new masks, weather and what is used now are told of the first alone, ${first}${write === undefined ? '' : ', whose settings --write writes'}`,
  );
}

/** The project whose settings in use are to be set; null where that was not asked for. */
function projectToUse({ use, camera }: Options, project: Project | null): Project | null {
  if (!use) return null;
  if (project && camera === undefined) return project;
  throw new Problem(
    'usage',
    project
      ? '--use: expected without --camera, because the settings in use belong to the camera that the project names; leave one out'
      : `--use: expected the spots of a project (${PROJECT}), found clips that were named; go to its folder and name none`,
  );
}

/** What is wanted, said in one of four ways. */
function wantedFrom(options: Options): Wanted | undefined {
  const { falsePerHour, photosPerDay, lasts, hoursOut, worth, sure, write, template } = options;
  const wrong = (text: string): never => {
    throw new Problem('usage', text);
  };
  if (options.doubts && options.recordedOnly) {
    wrong('--doubts: expected without --recorded-only, which leaves out all that it doubts; leave one out');
  }
  atMostOne({
    '--photos-per-day': photosPerDay,
    '--false-per-hour': falsePerHour,
    '--lasts': lasts,
    '--worth': worth,
  });
  if (photosPerDay === undefined && write === undefined && hoursOut !== undefined) {
    wrong('--hours-out: expected together with --photos-per-day or --write; add one or leave it out');
  }
  if (template !== undefined && write === undefined) {
    wrong('--template: expected together with --write, the folder that takes the filled file; add it');
  }
  if (sure !== undefined && [photosPerDay, falsePerHour, lasts].every((way) => way === undefined)) {
    wrong(
      '--sure: expected together with --false-per-hour, --photos-per-day or --lasts, because that is the allowance to be kept; add one',
    );
  }
  const allowance = allowanceFrom(options);
  if (allowance) return { ...allowance, sure };
  if (lasts !== undefined) return { lasts, sure };
  return worth === undefined ? undefined : { worth };
}
