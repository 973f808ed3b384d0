import { setImmediate } from 'node:timers/promises';
import { type Command, CommanderError } from 'commander';
import { Problem } from '../base/problem.js';
import { oneLine, visible } from '../base/text.js';
import { Recounted } from '../clip/recounted.js';
import { asProblem } from '../files/faults.js';
import { missingModule } from '../files/of-program.js';
import { letGoOfEmpty } from '../files/output-folder.js';
import { cleanUpNow } from '../files/partial.js';
import { endUndivided } from '../files/undivided.js';
import { canShowPage } from './display.js';
import { NotHeld } from './not-held.js';
import { programFor } from './verbs.js';

const DONE = 0;
const NOT_HELD = 1;
const WRONG_USE = 2;
const FAULT = 3;
/** 128 and the signal's number, as shells have it. */
const SIGNALS = { SIGINT: 130, SIGTERM: 143, SIGHUP: 129 } as const;
/** What makes a folder makes it whole or not at all, and starts anew; what reads clips keeps what it has read. */
const STARTS_ANEW = ['add', 'weather'];
/** What serves the page writes each change as it is made. */
const SERVES = ['open'];

/** Runs one command line (without node and script name; none of it opens the page where there is somebody to see it) and gives its exit code: 0 done, 1 a check did not hold, 2 wrong use or bad input, 3 a fault of ours. */
export async function main(given: readonly string[]): Promise<number> {
  const args = given.length === 0 && canShowPage() ? ['open'] : given;
  const forgetSignals = endWellOnSignals(args[0]);
  let unprinted: Error | null = null;
  // A reader that closes early (head, less) is no fault, and changes no verdict.
  const onUnprinted = (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') unprinted ??= error;
  };
  process.stdout.on('error', onUnprinted);
  // Notes that nobody can read are no fault either.
  const onUnread = () => undefined;
  process.stderr.on('error', onUnread);
  const code = await run(args);
  letGoOfEmpty();
  // Files and pipes are written at once, and tell of what went wrong a moment later.
  await setImmediate();
  forgetSignals();
  await written(process.stdout);
  // The listener stays where nobody reads any more: later errors would end the process.
  if (process.stdout.writable) process.stdout.off('error', onUnprinted);
  if (process.stderr.writable) process.stderr.off('error', onUnread);
  if (!unprinted) return code;
  return say(asProblem(Object.assign(unprinted, { path: 'standard output' })) ?? unprinted);
}

/** Waits till a pipe took all that was written: what it holds no more comes out a while later, or not at all. */
async function written(stream: NodeJS.WriteStream): Promise<void> {
  if (stream.writable && stream.writableLength > 0) await new Promise((then) => stream.write('', then));
}

/** @param told why it was begun anew, where it was */
async function run(args: readonly string[], told?: string): Promise<number> {
  try {
    const program = await programFor(args);
    if (args.length === 1) refuseUnsaid(program.commands.find((command) => command.name() === args[0]));
    await program.parseAsync(args, { from: 'user' });
    return DONE;
  } catch (error) {
    // Nothing was printed yet. Where it could not be noted the same comes again.
    if (error instanceof Recounted && error.message !== told) {
      process.stderr.write(
        `perchmark: note: ${oneLine(error.found)}; begun anew: its frames are found by decoding all of it\n`,
      );
      return run(args, error.message);
    }
    if (error instanceof NotHeld) return NOT_HELD;
    if (error instanceof CommanderError) return error.exitCode === 0 ? DONE : WRONG_USE;
    return say(missingModule(error) ?? asProblem(error) ?? error);
  }
}

/** A verb that is several, by itself: one line instead of the help of all. @throws Problem 'usage' */
function refuseUnsaid(verb: Command | undefined): void {
  if (!verb || verb.commands.length === 0) return;
  const names = verb.commands.map((command) => command.name()).join(', ');
  throw new Problem(
    'usage',
    `${verb.name()}: expected one of ${names}, found none; 'perchmark ${verb.name()} --help' tells what they do`,
  );
}

/** Tells an error on standard error; gives the exit code for it. */
function say(error: unknown): number {
  if (error instanceof Problem) {
    process.stderr.write(`perchmark: ${error.message}\n`);
    return error.code === 'incomplete' ? FAULT : WRONG_USE;
  }
  process.stderr.write(
    `perchmark: a fault in the program, not in what you gave it: ${visible(String((error as Error).stack ?? error))}\n`,
  );
  return FAULT;
}

/** Ends the process as signals ask, in one line and with nothing left half-done; gives what undoes that. */
function endWellOnSignals(verb: string | undefined): () => void {
  const anew = STARTS_ANEW.includes(verb ?? '');
  const kept = anew
    ? 'nothing was made; the same command starts anew'
    : SERVES.includes(verb ?? '')
      ? 'what the page said was saved is saved; the same command opens it again'
      : 'what was finished is kept, and the same command goes on from there';
  const listeners = Object.entries(SIGNALS).map(([signal, code]) => {
    const end = (made: readonly string[]) => {
      cleanUpNow();
      letGoOfEmpty();
      // On a terminal the line begins with what the key shows.
      const begin = signal === 'SIGINT' && process.stderr.isTTY ? '\n' : '';
      const left = anew && made.length > 0 ? `${oneLine(made.join(', '))} was made already, whole` : kept;
      process.stderr.write(`${begin}perchmark: stopped; ${left}\n`);
      process.exit(code);
    };
    const listener = () => endUndivided(end);
    process.once(signal, listener);
    return [signal, listener] as const;
  });
  return () => {
    for (const [signal, listener] of listeners) process.off(signal, listener);
  };
}
