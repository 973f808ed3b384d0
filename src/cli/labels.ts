import { join } from 'node:path';
import { type Command, InvalidArgumentError, Option } from 'commander';
import { plural } from '../base/figures.js';
import { Problem } from '../base/problem.js';
import type { NotHeld } from '../clip/exchange/format.js';
import { type FormatName, formatNames } from '../clip/exchange/formats.js';
import { countsText } from '../clip/exchange/merge.js';
import { manifestSchema } from '../clip/manifest.js';
import { openOutput } from '../files/output.js';
import { openOutputFolder } from '../files/output-folder.js';
import { readText } from '../files/read-json.js';
import { isThere } from '../files/regular.js';
import { exportLabels, type LabelsExportResult, labelsExportDocument } from '../jobs/labels-export.js';
import { importLabels, type LabelsImportResult } from '../jobs/labels-import.js';
import { examples } from './examples.js';
import { between } from './numbers.js';
import { JSON_OUT } from './options.js';
import { FORCE, rulesFor } from './outputs.js';
import { print } from './print.js';
import { terminalPorts } from './progress.js';
import { fold, listed } from './terminal.js';

interface ExportOptions {
  as: FormatName;
  start?: string;
  place?: { latitude: number; longitude: number };
  camera?: string;
  settings?: string;
  contributor?: string;
  scientificNames?: true;
  force?: true;
  json?: true;
}

interface ImportOptions {
  as: FormatName;
  start?: string;
  deployment?: string;
  gap?: number;
  allReviewed?: true;
  merge?: true;
  force?: true;
  json?: true;
}

const START = [
  '--start <time>',
  'when the recording began, such as 2026-05-04T06:10:00+01:00; default: "start" in clip.json',
] as const;

export function addLabels(program: Command): void {
  const labels = program
    .command('labels')
    .description(
      'Writes the labels of a clip in an open format that other programs read, or reads them from one.',
    );
  addExport(labels);
  addImport(labels);
  for (const command of labels.commands) command.copyInheritedSettings(program);
}

function format(): Option {
  return new Option('--as <format>', 'the open format').choices(formatNames).makeOptionMandatory();
}

function addExport(labels: Command): void {
  labels
    .command('export')
    .summary('writes the labels of a clip in an open format')
    .description(
      'Writes the labels of a clip into a folder: as Camtrap DP 1.0.2, a package of tables (camtrap-dp), or as WebVTT, cues beside a video (webvtt). It says what the format has no place for. The recording itself is not copied.',
    )
    .argument('<clip>', 'clip folder, or scene file')
    .argument('<dir>', 'the folder to write into')
    .addOption(format())
    .option(START[0], START[1], startTime)
    .option('--place <lat,lon>', 'degrees, such as 51.5,-3.2; default: "place" in clip.json', placeGiven)
    .option(
      '--settings <file>',
      'settings of the camera as it hung, to write down its cooldown; default: none is written',
    )
    .option('--camera <file>', "camera.json, if the settings are dial positions; default: the demo's")
    .option('--contributor <name>', 'who labelled')
    .option('--scientific-names', 'the names in labels.json are scientific ones')
    .option(...FORCE)
    .option(...JSON_OUT)
    .addHelpText(
      'after',
      examples([
        ['labels export my-clip shared --as camtrap-dp --place 51.5,-3.2', 'tables for other programs'],
        ['labels export my-clip my-cues --as webvtt', 'cues to be seen over the video'],
      ]),
    )
    .action(runExport);
}

function addImport(labels: Command): void {
  labels
    .command('import')
    .summary('reads labels in an open format into a clip')
    .description(
      "Reads labels from a package of Camtrap DP, or its observations.csv (camtrap-dp), or from WebVTT (webvtt), and writes them into the clip's labels.json. Labels that are there already stay, unless you say --merge or --force.",
    )
    .argument('<file>', 'the package (folder, datapackage.json or observations.csv), or the .vtt file')
    .argument('<clip>', 'clip folder')
    .addOption(format())
    .option(START[0], START[1], startTime)
    .option(
      '--deployment <id>',
      "of Camtrap DP: whose observations to take; default: the only one, or that of the clip's site or time",
    )
    .option(
      '--gap <seconds>',
      'of Camtrap DP: pictures without an event are one visit while no more than this lies between them (default: 10)',
      between(0, 86_400, 'a number of seconds'),
    )
    .option('--all-reviewed', 'all of the clip was looked through, whatever the file says')
    .addOption(new Option('--merge', 'add what is read to the labels that are there').conflicts('force'))
    .option('--force', 'replace the labels that are there, which are kept beside under another name')
    .option(...JSON_OUT)
    .addHelpText(
      'after',
      examples([
        ['labels import shared my-clip --as camtrap-dp', 'what another program labelled'],
        ['labels import my-clip.vtt my-clip --as webvtt --merge', 'cues, beside the labels that are there'],
      ]),
    )
    .action(runImport);
}

/** Options that mean something to Camtrap DP alone. */
const OF_CAMTRAP = {
  start: '--start',
  place: '--place',
  settings: '--settings',
  camera: '--camera',
  contributor: '--contributor',
  scientificNames: '--scientific-names',
  deployment: '--deployment',
  gap: '--gap',
} as const;

function refuseIdle(as: FormatName, said: Partial<Record<keyof typeof OF_CAMTRAP, unknown>>): void {
  if (as === 'camtrap-dp') return;
  const idle = (Object.keys(OF_CAMTRAP) as (keyof typeof OF_CAMTRAP)[]).find(
    (name) => said[name] !== undefined,
  );
  if (idle === undefined) return;
  throw new Problem(
    'usage',
    `${OF_CAMTRAP[idle]}: expected together with --as camtrap-dp, because ${as} has no place for it; leave it out`,
  );
}

async function runExport(
  clip: string,
  dir: string,
  { as, force, json, ...said }: ExportOptions,
): Promise<void> {
  refuseIdle(as, said);
  const ports = await terminalPorts();
  const result = await exportLabels({ clip, dir, format: as, ...said }, ports);
  await openOutputFolder('DIR', dir);
  if (!force) await refuseOthers(result);
  const rules = rulesFor([clip, said.camera, said.settings], { force: force === true }, ports);
  // All places are looked at before the first is written.
  const outputs = [];
  for (const { name, pieces } of result.files) {
    outputs.push({ output: await openOutput('DIR', join(dir, name), rules), pieces });
  }
  for (const { output, pieces } of outputs) await output.write(inTurn(pieces()));
  print(
    json ? { json } : {},
    ports,
    () => labelsExportDocument(result),
    () => exportText(result),
  );
}

/** What was written here of another recording would go without a word, for it is this program's own. */
async function refuseOthers({ clip, dir, files, recording }: LabelsExportResult): Promise<void> {
  const first = join(dir, files[0]!.name);
  if (!(await isThere(first))) return;
  const text = await readText(first, 'what was written there before');
  if (text.includes(recording)) return;
  throw new Problem(
    'file-unwritable',
    `DIR ${dir}: expected a folder without labels of another recording, found ${first}, which is not of ${clip}; choose another folder, or add --force to write over it`,
  );
}

async function* inTurn(pieces: Iterable<string>): AsyncGenerator<string> {
  yield* pieces;
}

async function runImport(
  file: string,
  clip: string,
  { as, merge, force, json, ...said }: ImportOptions,
): Promise<void> {
  refuseIdle(as, said);
  const ports = await terminalPorts();
  const there = merge ? 'merge' : force ? 'replace' : undefined;
  const result = await importLabels({ file, clip, format: as, there, ...said }, ports);
  print(
    json ? { json } : {},
    ports,
    () => result,
    () => importText(result),
  );
}

function exportText({ clip, dir, files, visits, notHeld, notes }: LabelsExportResult): string {
  const names = files.map(({ name }) => join(dir, name));
  return [
    fold(`${plural(visits, 'visit')} of ${clip} written: ${names.join(', ')}`),
    ...held(notHeld, 'What the format has no place for:'),
    ...listed('To be known:', notes),
  ].join('\n\n');
}

function importText(result: LabelsImportResult): string {
  const { clip, file, deployment, labels, before, keptAs, outside, cut, notHeld, notes } = result;
  const of = deployment === null ? '' : `, deployment ${deployment}`;
  const past = [
    ...(outside > 0 ? [`${plural(outside, 'stretch', 'stretches')} outside the clip left out`] : []),
    ...(cut > 0 ? [`${plural(cut, 'stretch', 'stretches')} cut to it`] : []),
  ];
  return [
    fold(
      `${join(clip, 'labels.json')} now holds ${countsText(labels)}, from ${file}${of}${past.length > 0 ? `; ${past.join(', ')}` : ''}.`,
    ),
    ...(before === null
      ? []
      : [
          fold(
            `What was there before (${countsText(before)}) is ${keptAs === null ? 'among them' : `in ${keptAs}`}.`,
          ),
        ]),
    ...held(notHeld, 'What labels have no place for:'),
    ...listed('To be known:', notes),
  ].join('\n\n');
}

function held(notHeld: readonly NotHeld[], head: string): string[] {
  return listed(
    head,
    notHeld.map(({ says }) => says),
  );
}

function startTime(text: string): string {
  if (manifestSchema.shape.start.safeParse(text).success) return text;
  throw new InvalidArgumentError('Expected a time with a zone, such as 2026-05-04T06:10:00+01:00.');
}

function placeGiven(text: string): { latitude: number; longitude: number } {
  const parts = text.split(',').map((part) => (part.trim() === '' ? Number.NaN : Number(part)));
  const [latitude, longitude] = parts;
  const found = manifestSchema.shape.place.safeParse({ latitude, longitude }).data;
  if (found && parts.length === 2) return found;
  throw new InvalidArgumentError('Expected latitude and longitude in degrees, such as 51.5,-3.2.');
}
