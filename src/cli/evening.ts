import { basename, extname, resolve } from 'node:path';
import type { Command } from 'commander';
import { plural } from '../base/figures.js';
import { Problem } from '../base/problem.js';
import { quoted } from '../base/text.js';
import { nameAfter } from '../files/names.js';
import { type Output, writeTogether } from '../files/output.js';
import { PROJECT } from '../files/project.js';
import { readText } from '../files/read-json.js';
import {
  type EveningResult,
  type EveningWritten,
  evening,
  eveningDocument,
  marksCsv,
} from '../jobs/evening.js';
import { openCamera } from '../jobs/open.js';
import { type EveningFound, eveningFound } from './evening-project.js';
import { eveningText } from './evening-text.js';
import { examples } from './examples.js';
import { onlyCamera } from './only-camera.js';
import { JSON_OUT } from './options.js';
import { FORCE, openOutputs } from './outputs.js';
import { print } from './print.js';
import { type TerminalPorts, terminalPorts } from './progress.js';

interface Options {
  marks?: string;
  promised?: string;
  site?: string;
  camera?: string;
  clock?: string;
  from?: string;
  until?: string;
  sheet?: string;
  report?: string;
  withoutPeople?: boolean;
  force?: boolean;
  json?: true;
}

export function addEvening(program: Command): void {
  program
    .command('evening')
    .description(
      'Takes the photos that a camera brought back. Without --marks it writes a sheet, a page on which to mark each as animal, nothing or person, and a CSV of marks to be filled in instead. With --marks it says how many show animals, by hour and by weather, whether photos of nothing came as often as tune or plan promised, and which stretch to record next. The photos themselves are never changed, moved or deleted.',
    )
    .argument(
      '[folder]',
      `the photos, JPEG or PNG; folders within it too; default: the last evening of ${PROJECT} in this folder`,
    )
    .option('--marks <csv>', 'what was seen: columns photo and seen (animal, nothing, person, or empty)')
    .option('--promised <file>', 'what tune --json or plan --json printed')
    .option('--site <name>', 'with --promised: which of its sites, where it has several')
    .option(
      '--camera <file>',
      'camera.json, which says how many photos it takes a trigger; default: the camera of the promise, or what the photos show',
      onlyCamera,
    )
    .option(
      '--clock <offset>',
      "with --promised of a plan: what the camera's clock is ahead of UTC, +01:00 or Z; default: it shows the plan's own time, unless that is UTC",
    )
    .option(
      '--from <time>',
      'when the camera began, by its own clock: 06:30 or "2026-05-09 06:30"; default: at the first photo',
    )
    .option('--until <time>', 'and when it ended; default: at the last photo')
    .option('--sheet <file>', 'where the sheet goes (.html); default without --marks: FOLDER-sheet.html')
    .option(
      '--report <file>',
      'with --marks: also write one HTML file; no people, and nothing unmarked, is ever shown in it',
    )
    .option(
      '--without-people',
      'with --marks and --sheet: leave photos marked as of people blank in the sheet, and forget their thumbnails',
    )
    .option(...FORCE)
    .option(...JSON_OUT)
    .addHelpText(
      'after',
      examples([
        ['evening DCIM', 'a sheet to mark the photos on'],
        ['evening DCIM --marks DCIM-marks.csv --promised tune.json', 'was it as promised?'],
      ]),
    )
    .action(run);
}

async function run(given: string | undefined, options: Options): Promise<void> {
  refuseTogether(options);
  const ports = await terminalPorts();
  const found = await eveningFound({ ...options, folder: given }, ports.onWarning);
  const { folder, marks, promised, site, camera } = found;
  const { from, until, clock } = options;
  refuseAlone(found, options);
  const named = namesFor(found, options);
  if (named.marks !== undefined) await refuseMarked(named.marks, options);
  const reads = [marks, promised, camera, found.project];
  await openOutputs(named, reads, options, ports);
  const result = await evening(
    {
      folder,
      marks,
      promised: promised === undefined ? undefined : { file: promised, site },
      camera,
      clock,
      from,
      until,
    },
    ports,
  );
  if (marks !== undefined && named.sheet === undefined) refuseUnmarked(result, marks);
  // Once more, now that it is known which files are photos.
  const photos = result.all.map(({ file }) => file);
  const outputs = await openOutputs(named, [...reads, ...photos], options, ports);
  const writing: (readonly [Output, string | AsyncIterable<string>])[] = [];
  if (outputs.marks) writing.push([outputs.marks, marksCsv(result.all, new Map())]);
  if (outputs.sheet) {
    const as = named.marks ?? marks;
    writing.push([
      outputs.sheet,
      await sheetOf(result, outputs.sheet.file, as, { ...options, camera }, ports),
    ]);
  }
  if (outputs.report) {
    // Loaded only where it is asked for: what draws takes long to load.
    const { eveningReport } = await import('../report/evening-report.js');
    writing.push([outputs.report, await eveningReport(result, ports)]);
  }
  await writeTogether(writing);
  const written: EveningWritten = {
    sheet: named.sheet ?? null,
    marks: named.marks ?? null,
    report: named.report ?? null,
  };
  print(
    options,
    ports,
    () => eveningDocument(result, written),
    () => eveningText(result, written),
  );
}

async function sheetOf(
  result: EveningResult,
  file: string,
  marks: string | undefined,
  { camera, withoutPeople = false }: Pick<Options, 'withoutPeople'> & Pick<EveningFound, 'camera'>,
  ports: TerminalPorts,
): Promise<AsyncIterable<string>> {
  const { sheetPieces } = await import('../report/sorting-sheet.js');
  const burst = camera === undefined ? null : (await openCamera(camera)).burst;
  return sheetPieces({ evening: result, file, saveAs: marks ?? 'marks.csv', burst, withoutPeople }, ports);
}

/** What makes no sense whatever a project says. */
function refuseTogether({ withoutPeople, sheet }: Options): void {
  if (withoutPeople && sheet === undefined)
    alone('--without-people', '--sheet, in which it leaves people out');
}

function refuseAlone(
  { marks, promised, site }: EveningFound,
  { report, withoutPeople, from, until, clock }: Options,
): void {
  if (site !== undefined && promised === undefined)
    alone('--site', '--promised, whose sites it chooses from');
  if (clock !== undefined && promised === undefined)
    alone('--clock', '--promised, whose hours it brings to it');
  if (marks !== undefined) return;
  if (withoutPeople) alone('--without-people', '--marks, which say where people are');
  if (report !== undefined) alone('--report', '--marks, which it tells of');
  if (promised !== undefined) alone('--promised', '--marks, which are held against it');
  if (from !== undefined) alone('--from', '--marks, over whose hours they are told');
  if (until !== undefined) alone('--until', '--marks, over whose hours they are told');
}

function alone(option: string, wanted: string): never {
  throw new Problem('usage', `${option}: expected together with ${wanted}; add it or leave ${option} out`);
}

/** Where all that is written goes; a sheet, and marks beside it, where nothing is marked yet. */
function namesFor({ folder, marks, marksTo }: EveningFound, { sheet, report }: Options) {
  for (const [option, file] of Object.entries({ '--sheet': sheet, '--report': report })) {
    // What has no ending may be a pipe or a device.
    if (file !== undefined && !/^(\.html?)?$/i.test(extname(file))) {
      throw new Problem(
        'usage',
        `${option}: expected the name of an HTML file, found ${quoted(file)}; let it end in .html`,
      );
    }
  }
  if (marks !== undefined) return { sheet, marks: undefined, report };
  const own = basename(resolve(folder)) || 'evening';
  const page = sheet ?? nameAfter(own, '-sheet.html');
  // Beside a pipe there is no place for a file.
  const besideIt = extname(page) === '' ? undefined : page.replace(/(-sheet)?\.html?$/i, '-marks.csv');
  const beside = sheet === undefined ? nameAfter(own, '-marks.csv') : besideIt;
  return { sheet: page, marks: marksTo ?? beside, report };
}

/** The file written to be filled in lies where a browser's own may be meant. */
function refuseUnmarked({ all }: EveningResult, file: string): void {
  if (all.some(({ seen }) => seen !== null)) return;
  throw new Problem(
    'usage',
    `${file}: expected marks, found none of ${plural(all.length, 'photo')} marked; give the file that "Save marks" of the sheet saved (browsers put it among the downloads), or fill in the column seen`,
  );
}

/** Marks are the work of an evening: a file that holds some is told of by itself. */
async function refuseMarked(file: string, { force = false }: Options): Promise<void> {
  if (force) return;
  const text = await readText(file, 'marks').catch(() => '');
  if (!/[,;\t]\s*"?(animal|nothing|person)"?\s*$/im.test(text)) return;
  throw new Problem(
    'file-unwritable',
    `${file}: there are marks in this file already, which an empty one would replace; go on with --marks ${file} (and --sheet FILE.html for a sheet with them), choose another name for the new one with --sheet, or add --force to write over it`,
  );
}
