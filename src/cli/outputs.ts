import { realpath } from 'node:fs/promises';
import { dirname } from 'node:path';
import { Problem } from '../base/problem.js';
import { type Output, type OutputRules, openOutput } from '../files/output.js';
import { isStandardOutput } from '../files/stdout.js';
import type { OpenPorts } from '../jobs/ports.js';
import { madeIn } from '../store/made.js';

export const FORCE = ['--force', 'write over files that perchmark did not make'] as const;

/** What outputs must keep to: see `openOutput`. */
export function rulesFor(
  reads: readonly (string | undefined)[],
  { force = false }: { force?: boolean },
  { cache }: Pick<OpenPorts, 'cache'>,
): OutputRules {
  return { reads: reads.filter((read) => read !== undefined), force, made: madeIn(cache) };
}

/**
 * Opens what the options name to be written, before the work begins: --report from { report: 'page.html' }.
 * @param reads files and clips that the run reads; those that are undefined were not given
 * @returns for each name its output, null where none was asked for
 */
export async function openOutputs<K extends string>(
  named: Record<K, string | undefined>,
  reads: readonly (string | undefined)[],
  { force = false, json = false }: { force?: boolean; json?: boolean },
  { cache }: Pick<OpenPorts, 'cache'>,
): Promise<Record<K, Output | null>> {
  const rules = rulesFor(reads, { force }, { cache });
  const opened: Partial<Record<K, Output | null>> = {};
  for (const [name, path] of Object.entries(named) as [K, string | undefined][]) {
    const option = `--${name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;
    if (json && path !== undefined && isStandardOutput(path)) {
      throw new Problem(
        'usage',
        `${option} ${path}: with --json standard output holds the JSON document alone; name a file`,
      );
    }
    opened[name] = path === undefined ? null : await openOutput(option, path, rules);
  }
  const files = Object.values<Output | null | undefined>(opened).flatMap((output) => output ?? []);
  const twice = files.find(({ file }, i) => files.findIndex((other) => other.file === file) < i);
  if (twice) {
    throw new Problem(
      'usage',
      `${twice.path}: expected a file of its own for each output, found it given twice`,
    );
  }
  return opened as Record<K, Output | null>;
}

/**
 * Refuses an output that may stand where --write puts a file: which names these have shows only once the sites are known.
 * @param dir the folder, made
 * @param ending of the files that --write fills in, beside its own
 * @throws Problem 'usage'
 */
export async function refuseAmongWritten(
  option: string,
  output: Output | null,
  dir: string,
  ending = '',
): Promise<void> {
  if (!output || dirname(output.file) !== (await realpath(dir))) return;
  const endings = ['-card.html', '.json', ...(ending === '' ? [] : [ending])];
  const taken = endings.find((end) => output.file.toLowerCase().endsWith(end.toLowerCase()));
  if (taken === undefined) return;
  throw new Problem(
    'usage',
    `${option} ${output.path}: files that --write puts into ${dir} end in ${taken}; choose another name or another folder`,
  );
}
