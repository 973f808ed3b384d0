import { oneLine } from '../base/text.js';
import { timeLeft } from '../base/time-left.js';
import type { OpenPorts } from '../jobs/ports.js';
import { openCache } from '../jobs/ports.js';
import type { Cache } from '../store/cache.js';

const FIRST_SHOWN = 1000;
const REDRAWN = 120;
const LINE_EVERY = 10_000;

/**
 * Progress on standard error for whatever takes over a second, phase by phase: one line redrawn in place on a terminal, a
 * line every ten seconds elsewhere.
 */
class Progress {
  private what = '';
  private began = 0;
  private shownAt = 0;
  private drawn = false;

  readonly begin = (what: string): void => {
    this.clear();
    this.what = oneLine(what);
    this.began = Date.now();
    this.shownAt = 0;
  };

  readonly update = (done: number, total: number, at?: string): void => {
    const now = Date.now();
    if (now - this.began < FIRST_SHOWN) return;
    const terminal = process.stderr.isTTY === true;
    if (now - this.shownAt < (terminal ? REDRAWN : LINE_EVERY)) return;
    this.shownAt = now;
    const left = timeLeft(now - this.began, done, total);
    const share = at === undefined ? `${done} of ${total}` : `${Math.floor((100 * done) / total)} %`;
    const guess = left === null ? '' : `, ${left}`;
    const text = `${this.what}: ${share}${guess}${at === undefined ? '' : `; ${oneLine(at)}`}`;
    process.stderr.write(terminal ? `\r\u001b[K${cutTo(process.stderr.columns, text)}` : `${text}\n`);
    this.drawn = terminal;
  };

  readonly clear = (): void => {
    if (this.drawn) process.stderr.write('\r\u001b[K');
    this.drawn = false;
  };
}

/** A line that fits, for one that was wrapped could not be taken away again. */
function cutTo(columns: number | undefined, text: string): string {
  return columns === undefined || text.length < columns
    ? text
    : `${text.slice(0, Math.max(0, columns - 2))}…`;
}

/** What a job is given when it is run from a terminal: progress and warnings go to standard error. */
export interface TerminalPorts extends OpenPorts {
  /** Takes the progress line away, before anything is printed. */
  clear: () => void;
}

/** @param open gives the cache; told where its warnings go */
export async function terminalPorts(
  open: (onWarning: (line: string) => void) => Promise<Cache> = openCache,
): Promise<TerminalPorts> {
  const progress = new Progress();
  const onWarning = (line: string) => {
    progress.clear();
    process.stderr.write(`perchmark: note: ${oneLine(line)}\n`);
  };
  return {
    cache: await open(onWarning),
    onPhase: progress.begin,
    onProgress: progress.update,
    onWarning,
    clear: progress.clear,
  };
}
