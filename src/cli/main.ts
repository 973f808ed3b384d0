import { Command, CommanderError } from 'commander';
import { cleanUpNow } from '../clip/atomic.js';
import { Problem } from '../problem.js';
import { addAdd } from './add.js';
import { addDemo } from './demo.js';
import { addReplay } from './replay.js';
import { addTune } from './tune.js';
import { version } from './version.js';
import { addWeather } from './weather.js';

const DONE = 0;
const WRONG_USE = 2;
const FAULT = 3;
/** 128 + SIGINT, as shells have it. */
const INTERRUPTED = 130;

/** Runs one command line (without node and script name) and gives its exit code: 0 done, 2 wrong use or bad input, 3 a fault of ours. */
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
    await build().parseAsync(args, { from: 'user' });
    return DONE;
  } catch (error) {
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

function build(): Command {
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
  for (const add of [addDemo, addAdd, addReplay, addTune, addWeather]) add(program);
  for (const command of program.commands) command.copyInheritedSettings(program);
  return program;
}
