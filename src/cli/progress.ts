import { oneLine } from '../base/text.js';
import type { OpenPorts } from '../jobs/ports.js';
import { openCache } from '../jobs/ports.js';

const FIRST_SHOWN = 1000;
const REDRAWN = 120;
const LINE_EVERY = 10_000;
const GUESSED_FROM = 0.05;

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

  readonly update = (done: number, total: number): void => {
    const now = Date.now();
    if (now - this.began < FIRST_SHOWN) return;
    const terminal = process.stderr.isTTY === true;
    if (now - this.shownAt < (terminal ? REDRAWN : LINE_EVERY)) return;
    this.shownAt = now;
    // Too early, the pace is that of starting up.
    const left = ((now - this.began) * (total - done)) / done / 1000;
    const guess = done >= total * GUESSED_FROM ? `, about ${Math.ceil(left)} s left` : '';
    const text = `${this.what}: ${done} of ${total}${guess}`;
    process.stderr.write(terminal ? `\r\u001b[K${text}` : `${text}\n`);
    this.drawn = terminal;
  };

  readonly clear = (): void => {
    if (this.drawn) process.stderr.write('\r\u001b[K');
    this.drawn = false;
  };
}

/** What a job is given when it is run from a terminal: progress and warnings go to standard error. */
export interface TerminalPorts extends OpenPorts {
  /** Takes the progress line away, before anything is printed. */
  clear: () => void;
}

export async function terminalPorts(): Promise<TerminalPorts> {
  const progress = new Progress();
  const onWarning = (line: string) => {
    progress.clear();
    process.stderr.write(`perchmark: note: ${oneLine(line)}\n`);
  };
  return {
    cache: await openCache(onWarning),
    onPhase: progress.begin,
    onProgress: progress.update,
    onWarning,
    clear: progress.clear,
  };
}
