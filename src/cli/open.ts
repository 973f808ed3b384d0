import { spawn } from 'node:child_process';
import { dirname, join } from 'node:path';
import type { Command } from 'commander';
import { CAMERA, PROJECT, type Project } from '../files/project.js';
import type { OpenDocument } from '../jobs/documents/open.js';
import { plural } from '../words/ratios.js';
import { examples } from './examples.js';
import { between } from './numbers.js';
import { terminalPorts } from './progress.js';
import { projectFor } from './project.js';

interface Options {
  port?: number;
  json?: true;
}

export function addOpen(program: Command): void {
  program
    .command('open')
    .description(
      'Opens a page in the browser, served by this machine for this machine alone, to label clips and turn the dials.',
    )
    .argument(
      '[folder]',
      `a clip, or a folder to keep clips in; default: the clips of ${PROJECT} in this folder, else those of the demo`,
    )
    .option(
      '--port <n>',
      'the port to listen on; default: that of last time, else any that is free',
      between(1, 65_535, 'a port'),
    )
    .option('--json', 'print the address as one line of JSON, and open no browser')
    .addHelpText(
      'after',
      examples([
        ['open', 'the clips of the demo, or of the project in this folder'],
        ['open my-garden', 'a folder to keep your own clips in'],
      ]),
    )
    .action(run);
}

async function run(folder: string | undefined, options: Options): Promise<void> {
  const [{ serveByKeptDoor }, { Workspace }] = await Promise.all([
    import('../workbench/door.js'),
    import('../workbench/workspace.js'),
  ]);
  const ports = await terminalPorts();
  const project = await projectFor(folder === undefined ? [] : [folder]);
  const workspace = await Workspace.open(project ? dirname(project.file) : folder, ports);
  if (project && project.sites.length > 0) ports.onWarning(openedText(project));
  const { address } = await serveByKeptDoor({ workspace, ports }, options.port);
  if (options.json) {
    const document: OpenDocument = { address };
    process.stdout.write(`${JSON.stringify(document)}\n`);
  } else {
    process.stdout.write(
      `The workbench is at ${address}\nOnly this machine can open it. It runs until you press Ctrl-C.\n`,
    );
    openBrowser(address);
  }
  await new Promise(() => undefined);
}

/** What is open, and by which camera: the page has one for all spots. */
function openedText({ file, sites }: Project): string {
  const clips = sites.reduce((n, site) => n + site.clips.length, 0);
  const own = sites.filter(({ camera }) => camera !== undefined && camera !== join(dirname(file), CAMERA));
  const rest =
    own.length === 0
      ? ''
      : `; the page looks at all of them with ${CAMERA} beside it, or the default camera, and not with those named for ${own.map(({ site }) => site).join(', ')}`;
  return `from ${file}: ${plural(clips, 'clip')} of ${sites.map(({ site }) => site).join(', ')}${rest}`;
}

/** Asks the system to open an address; where it cannot, the address is printed anyway. */
function openBrowser(address: string): void {
  const [command, ...args] =
    process.platform === 'darwin'
      ? ['open', address]
      : process.platform === 'win32'
        ? ['cmd', '/c', 'start', '', address]
        : ['xdg-open', address];
  const child = spawn(command!, args, { stdio: 'ignore', detached: true });
  child.on('error', () => undefined);
  child.unref();
}
