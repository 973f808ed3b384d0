import type { Command } from 'commander';
import { say } from '../files/stdout.js';
import { jsonSchemaNamed, type SchemaListed, schemasListed } from '../jobs/schemas.js';
import { examples } from './examples.js';
import { strong } from './terminal.js';

export function addSchema(program: Command): void {
  program
    .command('schema')
    .description(
      'Prints the JSON Schema of a file that you write, for your editor, or of what a verb prints with --json. Without a name: lists them.',
    )
    .argument('[name]', 'which one')
    .option('--json', 'one JSON document on standard output, as a schema is anyway')
    .addHelpText(
      'after',
      examples([
        ['schema', 'which there are'],
        ['schema labels > labels.schema.json', 'for an editor that checks labels.json as you type'],
      ]),
    )
    .action(run);
}

async function run(name: string | undefined, { json }: { json?: true }): Promise<void> {
  if (name !== undefined) print(await jsonSchemaNamed(name));
  else if (json) print(schemasListed);
  else say(`${listText(schemasListed)}\n`);
}

function print(value: unknown): void {
  say(`${JSON.stringify(value, null, 2)}\n`);
}

function listText(listed: readonly SchemaListed[]): string {
  const width = Math.max(...listed.map(({ name }) => name.length));
  const lines = (kind: SchemaListed['kind']) =>
    listed
      .filter((schema) => schema.kind === kind)
      .map(({ name, title, about }) => `  ${name.padEnd(width)}  ${title}: ${about}`);
  return [
    strong('Files that you write'),
    ...lines('file'),
    '',
    strong('What --json prints'),
    ...lines('document'),
    '',
    'perchmark schema NAME prints one.',
  ].join('\n');
}
