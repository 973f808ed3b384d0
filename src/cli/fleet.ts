import { stat } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import type { Command } from 'commander';
import { Option } from 'commander';
import { Problem } from '../base/problem.js';
import { liesIn, openOutputFolder } from '../files/output-folder.js';
import { PROJECT, projectAt } from '../files/project.js';
import { cameraFile, cameraShown, isShipped } from '../files/shipped-cameras.js';
import { addressFrom } from '../fleet/address.js';
import { openQueue, USUAL_LEASE } from '../fleet/open-queue.js';
import { ownProgram } from '../fleet/program.js';
import type { FleetVerb } from '../fleet/run.js';
import { endOf, FLEET, foundFleet, KEPT, knownFleet, withinShared } from '../fleet/shared-folder.js';
import { statusOf, worstCode } from '../fleet/status.js';
import { submit } from '../fleet/submit.js';
import { workOn } from '../fleet/work.js';
import { fleetVerbs } from '../jobs/documents/fleet.js';
import { openLastingCache } from '../jobs/ports.js';
import { examples } from './examples.js';
import { askedOf } from './fleet-project.js';
import { statusText, submitText, workText } from './fleet-text.js';
import { NotHeld } from './not-held.js';
import { between } from './numbers.js';
import { SITE } from './options.js';
import { FORCE, openOutputs } from './outputs.js';
import { print } from './print.js';
import { terminalPorts } from './progress.js';

interface Common {
  queue?: string;
  shared: string;
  json?: true;
}

interface SubmitOptions extends Common {
  verb: FleetVerb;
  camera?: string;
  settings?: string;
  site?: string;
}

interface WorkOptions extends Common {
  untilEmpty?: true;
  lease: number;
}

interface StatusOptions extends Common {
  report?: string;
  force?: true;
}

const QUEUE = [
  '--queue <address>',
  'where the queue is: redis://HOST:PORT, or a file whose first line is the address, with its password; default: what PERCHMARK_QUEUE says',
] as const;
const SHARED = ['--shared <folder>', 'the folder with the clips, which all machines see'] as const;
const JSON_OUT = ['--json', 'one JSON document on standard output'] as const;

export function addFleet(program: Command): void {
  const fleet = program
    .command('fleet')
    .description(
      'Checks, tunes or diagnoses many clips on several machines that share a folder and a queue. The answer is the same as on one machine, to the byte.',
    );
  addSubmit(fleet);
  addWork(fleet);
  addStatus(fleet);
}

function addSubmit(fleet: Command): void {
  fleet
    .command('submit')
    .summary('puts the jobs of a suite, a project or a list of clips into the queue')
    .description(
      'Puts the jobs of a suite, a project or a list of clips into the queue. It reads the description and labels of each clip and looks at the names, sizes and times of change of its files; if one of these has changed, the jobs of that clip are done again.',
    )
    .argument(
      '<source>',
      `suite.json, ${PROJECT} or the folder it is in, or a text file with a clip a line; in the shared folder`,
    )
    .option(...QUEUE)
    .requiredOption(...SHARED)
    .addOption(
      new Option('--verb <verb>', 'what to work out').choices([...fleetVerbs]).default('check' as FleetVerb),
    )
    .option(
      '--camera <file>',
      "of a list of clips, in the shared folder, or the name of one that ships; default: the demo's",
    )
    .option('--settings <file>', 'of a list of clips to diagnose, in the shared folder')
    .option(...SITE)
    .option(...JSON_OUT)
    .addHelpText(
      'after',
      examples([['fleet submit /mnt/clips/suite.json --shared /mnt/clips', 'check a suite on all machines']]),
    )
    .action(runSubmit);
}

function addWork(fleet: Command): void {
  fleet
    .command('work')
    .summary('takes jobs from the queue and does them, one at a time')
    .description('Takes jobs from the queue and does them, one at a time: start one for each core.')
    .option(...QUEUE)
    .requiredOption(...SHARED)
    .option('--until-empty', 'end when nothing is left, with the exit code of the verb')
    .option(
      '--lease <seconds>',
      'a worker that is not heard of for so long loses its job to another',
      between(2, 3600, 'seconds'),
      USUAL_LEASE,
    )
    .option(...JSON_OUT)
    .addHelpText(
      'after',
      examples([['fleet work --shared /mnt/clips --until-empty', 'help until all is done']]),
    )
    .action(runWork);
}

function addStatus(fleet: Command): void {
  fleet
    .command('status')
    .summary('says what is left, how long it takes, and what changed at each site')
    .description('Says what is left, how long it takes, and what changed at each site, worse ones first.')
    .option(...QUEUE)
    .requiredOption(...SHARED)
    .option('--report <file>', 'also write one HTML file with the table of sites')
    .option(...FORCE)
    .option(...JSON_OUT)
    .addHelpText('after', examples([['fleet status --shared /mnt/clips', 'how far it is, site by site']]))
    .action(runStatus);
}

async function runSubmit(source: string, options: SubmitOptions): Promise<void> {
  const ports = await terminalPorts();
  const address = await addressFrom(options.queue);
  const { shared, verb } = options;
  await mustBeThere(shared);
  await openOutputFolder('--shared', shared);
  const inside = (option: string, path: string | undefined) =>
    path === undefined ? null : withinShared(option, path, shared);
  const project = await projectAt(source);
  if (!project && options.site !== undefined) {
    throw new Problem(
      'usage',
      `--site: expected with a project (${PROJECT}), found another source; leave it out`,
    );
  }
  const named = {
    verb,
    source: await withinShared('fleet submit', project ?? source, shared),
    camera: await cameraWithin(options.camera, shared),
    settings: await inside('--settings', options.settings),
  };
  process.chdir(shared);
  const asked = { ...named, project: project ? await askedOf(named, options.site, ports) : null };
  const program = ownProgram();
  const queue = await openQueue(address, await foundFleet(), program, ports);
  try {
    const result = await submit(asked, program, queue);
    print(
      options,
      ports,
      () => result,
      () => submitText(result),
    );
  } finally {
    await queue.close();
  }
}

async function runWork(options: WorkOptions): Promise<void> {
  const address = await addressFrom(options.queue);
  await goInto(options.shared);
  const fleet = await knownFleet();
  const { onWarning, ...terminal } = await terminalPorts();
  const ports = { ...terminal, onWarning, cache: await openLastingCache(resolve(KEPT), onWarning) };
  const program = ownProgram();
  const leaseMs = options.lease * 1000;
  const queue = await openQueue(address, fleet, program, { leaseMs, onWarning });
  const untilEmpty = options.untilEmpty === true;
  try {
    const result = await workOn(queue, { fleet, program, leaseMs, untilEmpty, ports });
    print(
      options,
      ports,
      () => result,
      () => workText(result),
    );
    const ends = await Promise.all(result.runs.map(endOf));
    endAs(ends.flatMap((end) => end ?? []).sort((a, b) => b.code - a.code)[0] ?? { code: 0, message: null });
  } finally {
    await queue.close();
  }
}

async function runStatus(options: StatusOptions): Promise<void> {
  const ports = await terminalPorts();
  const address = await addressFrom(options.queue);
  if (options.report !== undefined) await mustNotLieIn(FLEET, '--report', options.report, options.shared);
  const { report } = await openOutputs({ report: options.report }, [], options, ports);
  await goInto(options.shared);
  const fleet = await knownFleet();
  const status = await statusOf(address.shown, (program) => openQueue(address, fleet, program, ports));
  if (report) {
    const { fleetReport } = await import('../report/fleet-report.js');
    await report.write(fleetReport(status));
  }
  print(
    options,
    ports,
    () => status,
    () => statusText(status),
  );
  endAs(worstCode(status.runs) ?? { code: 0, message: null });
}

/** A camera's file within the shared folder, or the name of one that ships. */
async function cameraWithin(given: string | undefined, shared: string): Promise<string | null> {
  if (given === undefined) return null;
  const shown = cameraShown(await cameraFile(given));
  return isShipped(shown) ? shown : withinShared('--camera', given, shared);
}

/** From here on paths are those of the shared folder, the same on every machine. */
async function goInto(shared: string): Promise<void> {
  await mustBeThere(shared);
  process.chdir(shared);
}

async function mustBeThere(shared: string): Promise<void> {
  if ((await stat(shared).catch(() => null))?.isDirectory()) return;
  throw new Problem(
    'file-missing',
    `--shared ${shared}: expected the folder that all machines share, found no folder of that name; see that it is there on this machine`,
  );
}

/** @throws Problem where an output lies among what the fleet itself keeps */
async function mustNotLieIn(folder: string, option: string, path: string, shared: string): Promise<void> {
  if (!(await liesIn(path, join(shared, folder)))) return;
  throw new Problem(
    'file-unwritable',
    `${option} ${path}: this lies in ${join(shared, folder)}, where the fleet keeps its own files; choose another place`,
  );
}

/** Ends as the verb would on one machine. */
function endAs({ code, message }: { code: 0 | 1 | 2; message: string | null }): void {
  if (code === 1) throw new NotHeld();
  if (code === 2) throw new Problem('file-unreadable', message ?? '');
}
