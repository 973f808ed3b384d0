const FIRST_SHOWN = 1000;
const REDRAWN = 120;
const LINE_EVERY = 10_000;
const GUESSED_FROM = 0.05;

/**
 * Progress on standard error for whatever takes over a second: one line redrawn in place on a terminal, a line every
 * ten seconds elsewhere.
 */
export class Progress {
  private readonly began = Date.now();
  private shownAt = 0;
  private drawn = false;

  constructor(private readonly what: string) {}

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

  end(): void {
    if (this.drawn) process.stderr.write('\r\u001b[K');
  }
}

/** Progress of work in several phases, each with a name and a count of its own. */
export class Phases {
  private progress: Progress | null = null;

  readonly begin = (what: string): void => {
    this.end();
    this.progress = new Progress(what);
  };

  readonly update = (done: number, total: number): void => this.progress?.update(done, total);

  end(): void {
    this.progress?.end();
    this.progress = null;
  }
}
