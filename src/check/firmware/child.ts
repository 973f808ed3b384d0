import { type ChildProcessWithoutNullStreams, spawn } from 'node:child_process';
import { Problem } from '../../base/problem.js';
import { quoted } from '../../base/text.js';

/** How a program ended. */
export interface Ending {
  code: number | null;
  signal: NodeJS.Signals | null;
}

/** Milliseconds after its end in which what it printed must have come in: what holds its output open longer is not waited for. */
const GRACE = 1000;
/** Characters of standard error that are kept, from the end. */
const MOST_SAID = 2000;

/**
 * A program of the user's that reads and prints, in a process group of its own, so that whatever it starts ends with it. It
 * never outlives this process, nor `kill`.
 */
export class Child {
  /** Resolves once it has ended and all that it printed has been taken. */
  readonly ended: Promise<Ending>;
  /** What it said on standard error: the last of it, and of how many lines. */
  said = '';
  saidLines = 0;
  /** Whether it takes no more input. */
  inputClosed = false;
  private failure: Error | null = null;
  private onFailure: (error: Error) => void = () => undefined;

  /**
   * @param take what it prints, piece by piece; what this throws is thrown by whatever waits for the program
   * @throws Problem 'usage' where there is no such program, or where it cannot be run
   */
  static async start(
    program: string,
    words: readonly string[],
    take: (piece: string) => void,
  ): Promise<Child> {
    // Only there does a group come with it; elsewhere it is another window.
    const detached = process.platform !== 'win32';
    let child: ChildProcessWithoutNullStreams | undefined;
    // From its first moment on it ends with this process.
    const kill = () => child && killGroup(child);
    process.once('exit', kill);
    try {
      const started = spawn(program, words, { detached, windowsHide: true });
      child = started;
      await new Promise<void>((resolve, reject) => {
        started.once('spawn', resolve);
        started.once('error', reject);
      });
      return new Child(started, take);
    } catch (error) {
      throw unrunnable(program, error as NodeJS.ErrnoException);
    } finally {
      process.off('exit', kill);
    }
  }

  private constructor(
    private readonly child: ChildProcessWithoutNullStreams,
    take: (piece: string) => void,
  ) {
    process.once('exit', this.kill);
    child.on('error', (error) => this.fail(error));
    child.stdin.on('error', () => {
      this.inputClosed = true;
    });
    child.stdout.setEncoding('utf8').on('data', (piece: string) => {
      if (this.failure) return;
      try {
        take(piece);
      } catch (error) {
        this.fail(error as Error);
      }
    });
    child.stderr.setEncoding('utf8').on('data', (piece: string) => {
      this.said = `${this.said}${piece}`.slice(-MOST_SAID);
      this.saidLines += piece.split('\n').length - 1;
    });
    this.ended = new Promise((resolve) => {
      child.once('exit', (code, signal) => {
        // What it started and left behind may hold its output open.
        this.kill();
        const letGo = setTimeout(() => this.letGo(), GRACE);
        child.once('close', () => {
          clearTimeout(letGo);
          resolve({ code, signal });
        });
      });
    });
  }

  /** What it said last on standard error, or the error that it ended by; '' where it said nothing. */
  get lastSaid(): string {
    return lastLine(this.said);
  }

  /** Hands it bytes, without waiting. */
  push(text: string): void {
    this.child.stdin.write(text);
  }

  /** Hands it bytes; resolves once they are taken from here, or once it takes no more. */
  write(bytes: Uint8Array): Promise<void> {
    return new Promise((resolve) => {
      this.child.stdin.write(bytes, (error) => {
        if (error) this.inputClosed = true;
        resolve();
      });
    });
  }

  /** Tells it that nothing more comes. */
  endInput(): void {
    this.child.stdin.end();
  }

  /** Rejects with what went wrong with its output, at once or later; never resolves. */
  failed(): Promise<never> {
    return new Promise((_, reject) => {
      if (this.failure) reject(this.failure);
      this.onFailure = reject;
    });
  }

  /** Ends it and whatever it started, at once. */
  readonly kill = (): void => killGroup(this.child);

  /** Ends it, and lets go of what was held for it. */
  close(): void {
    process.off('exit', this.kill);
    this.kill();
    this.letGo();
  }

  private letGo(): void {
    for (const stream of [this.child.stdin, this.child.stdout, this.child.stderr]) stream.destroy();
  }

  private fail(error: Error): void {
    this.failure ??= error;
    this.onFailure(this.failure);
  }
}

/** What Node prints last where a program of JavaScript ends by an error, which it names before. */
const NODE_ENDS = /^(?:Node\.js v\d|\(Use `node )/;
/** An error by its name, at the begin of a line: Error [CODE]: what was wrong. */
const NAMED = /^(?:Uncaught )?[\w$.]*(?:Error|Exception)\b.*?: \S/;

/** The line of a text that says most of how it ended: the last, or before Node's own last words that of the error. */
function lastLine(text: string): string {
  const lines = text.split('\n').filter((line) => line.trim() !== '');
  if (!NODE_ENDS.test(lines.at(-1) ?? '')) return lines.at(-1)?.trim() ?? '';
  const own = lines.filter((line) => !NODE_ENDS.test(line));
  return (own.findLast((line) => NAMED.test(line)) ?? own.at(-1) ?? lines.at(-1)!).trim();
}

function killGroup(child: ChildProcessWithoutNullStreams): void {
  const { pid } = child;
  if (pid === undefined) return;
  try {
    if (process.platform === 'win32') child.kill('SIGKILL');
    else process.kill(-pid, 'SIGKILL');
  } catch {
    // All of them have ended.
  }
}

function unrunnable(program: string, error: NodeJS.ErrnoException): Error {
  const refuse = (found: string, next: string) =>
    new Problem(
      'usage',
      `--camera-command: expected a program that can be run, found ${found} ${quoted(program)}; ${next}`,
    );
  if (error.code === 'ENOENT') {
    return refuse(
      'none called',
      /[\\/]/.test(program)
        ? 'mend where it is, or build it first'
        : 'mend its name, put it on the PATH, or write where it is from here: ./firmware',
    );
  }
  if (error.code === 'EACCES') {
    return refuse(
      'that nobody may run',
      'make it executable (chmod +x), or name what runs it: node firmware.js',
    );
  }
  return refuse(`that the system does not start (${error.code ?? error.message})`, 'try it by itself');
}
