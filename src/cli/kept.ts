import type { Command } from 'commander';
import { significant } from '../base/figures.js';
import { type KeptResult, kept, openKept } from '../jobs/kept.js';
import { examples } from './examples.js';
import { between } from './numbers.js';
import { JSON_OUT } from './options.js';
import { print } from './print.js';
import { terminalPorts } from './progress.js';
import { fold, table } from './terminal.js';

interface Options {
  limit?: number;
  clear?: true;
  json?: true;
}

const GB = 1e9;
const MB = 1e6;

export function addKept(program: Command): void {
  program
    .command('kept')
    .description(
      'Shows what is kept between runs so that nothing is read or drawn twice. All of it can be made again. Beyond the limit, what has not been used for longest makes room.',
    )
    .option('--limit <GB>', 'how much may be kept from now on', between(0.001, 1e6, 'gigabytes'))
    .option('--clear', 'remove it all')
    .option(...JSON_OUT)
    .addHelpText(
      'after',
      examples([
        ['kept', 'how much is kept, and of what'],
        ['kept --limit 5', 'keep no more than 5 GB'],
      ]),
    )
    .action(run);
}

async function run({ limit, clear, ...options }: Options): Promise<void> {
  const asked = { ...(limit === undefined ? {} : { limit: limit * GB }), clear: clear === true };
  const ports = await terminalPorts((onWarning) => openKept(asked, onWarning));
  const result = await kept(asked, ports);
  print(
    options,
    ports,
    () => result,
    () => keptText(result),
  );
}

function keptText({ folder, bytes, limit, removed, kinds }: KeptResult): string {
  const rows = kinds
    .filter(({ entries }) => entries > 0)
    .map(({ about, entries, bytes: size, used }) => [about, String(entries), sizeText(size), day(used)]);
  const lines = [
    fold(
      `${sizeText(bytes)} of at most ${sizeText(limit)} kept in ${folder}. ${removed > 0 ? `${sizeText(removed)} removed. ` : ''}It can all be made again; beyond the limit what was not used for longest makes room.`,
    ),
  ];
  if (rows.length > 0) lines.push('', table(['', 'entries', 'size', 'last used'], rows));
  return lines.join('\n');
}

function sizeText(bytes: number): string {
  return bytes >= GB
    ? `${significant(bytes / GB, 3)} GB`
    : `${significant(bytes / MB, bytes < MB ? 2 : 3)} MB`;
}

function day(used: string | null): string {
  return used === null ? '' : used.slice(0, 10);
}
