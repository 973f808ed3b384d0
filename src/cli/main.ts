import { Command, CommanderError } from 'commander';
import { Problem } from '../base/problem.js';
import { cleanUpNow } from '../files/atomic.js';
import { NotHeld } from './not-held.js';
import { version } from './version.js';

/** In the order of help. Each is loaded only where it is wanted, for what one of them needs may take long to load. */
const verbs = new Map<string, () => Promise<(program: Command) => void>>([
  ['demo', async () => (await import('./demo.js')).addDemo],
  ['add', async () => (await import('./add.js')).addAdd],
  ['replay', async () => (await import('./replay.js')).addReplay],
  ['tune', async () => (await import('./tune.js')).addTune],
  ['diagnose', async () => (await import('./diagnose.js')).addDiagnose],
  ['weather', async () => (await import('./weather.js')).addWeather],
  ['check', async () => (await import('./check.js')).addCheck],
  ['schema', async () => (await import('./schema.js')).addSchema],
]);

const DONE = 0;
const NOT_HELD = 1;
const WRONG_USE = 2;
const FAULT = 3;
/** 128 + SIGINT, as shells have it. */
const INTERRUPTED = 130;

/** Runs one command line (without node and script name) and gives its exit code: 0 done, 1 a check did not hold, 2 wrong use or bad input, 3 a fault of ours. */
export async function main(args: readonly string[]): Promise<number> {
  process.once('SIGINT', () => {
    cleanUpNow();
    process.stderr.write(
      '\nperchmark: stopped; what was finished is kept, and the same command goes on from there\n',
    );
    process.exit(INTERRUPTED);
  });
  // A reader that closes early (head, less) is no fault.
  process.stdout.on('error', (error: NodeJS.ErrnoException) =>
    process.exit(error.code === 'EPIPE' ? DONE : FAULT),
  );
  try {
    const program = await build(args[0]);
    await program.parseAsync(args, { from: 'user' });
    return DONE;
  } catch (error) {
    if (error instanceof NotHeld) return NOT_HELD;
    if (error instanceof CommanderError) return error.exitCode === 0 ? DONE : WRONG_USE;
    if (error instanceof Problem) {
      process.stderr.write(`perchmark: ${error.message}\n`);
      return WRONG_USE;
    }
    process.stderr.write(
      `perchmark: a fault in the program, not in what you gave it: ${(error as Error).stack ?? error}\n`,
    );
    return FAULT;
  }
}

/** @param verb the first word of the command line; all verbs are there where it is none of them */
async function build(verb: string | undefined): Promise<Command> {
  const program = new Command('perchmark')
    .description('Chooses the trigger settings of a home-built wildlife camera before it is left alone.')
    .version(version())
    .configureOutput({
      outputError: (text, write) =>
        write(
          `perchmark: ${text
            .replace(/^error: /, '')
            .trim()
            .replace(/\s*\n\s*/g, ' ')}\n`,
        ),
    })
    .exitOverride()
    .showSuggestionAfterError();
  const named = verb === undefined ? undefined : verbs.get(verb);
  for (const load of named ? [named] : verbs.values()) (await load())(program);
  for (const command of program.commands) command.copyInheritedSettings(program);
  return program;
}
