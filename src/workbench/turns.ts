import type { OpenPorts } from '../jobs/ports.js';

interface Turn {
  /** In words, for those who wait: 'reading frames'. */
  what: string;
  begin: () => void;
}

/**
 * Heavy jobs of the server, one at a time in the order in which they were asked for: two at once would take as long and twice
 * the memory. Whoever waits is told for what, as a phase. In a route:
 *
 *     .post('/clips/:id/tune', (c) =>
 *       streamed<Tuned>(ports.cache, (told) => turns.take('trying settings', told, () => tune(..., told))))
 *
 * `turns` is the bench's. A job that is in a turn must not ask for another: it would wait for itself.
 */
export class Turns {
  private readonly waiting: Turn[] = [];
  private now: Turn | null = null;

  /**
   * @param what in words, for those who wait meanwhile
   * @param ports told what is waited for; aborted: the turn is given up
   * @throws whatever the job throws; the signal's reason
   */
  async take<T>(
    what: string,
    { onPhase, signal }: Pick<OpenPorts, 'onPhase' | 'signal'>,
    job: () => Promise<T>,
  ): Promise<T> {
    signal?.throwIfAborted();
    if (this.now) onPhase(`waiting for another job to end: ${this.now.what}`);
    const turn = await this.wait(what, signal);
    try {
      return await job();
    } finally {
      if (this.now === turn) this.next();
    }
  }

  private wait(what: string, signal?: AbortSignal): Promise<Turn> {
    return new Promise((resolve, reject) => {
      const leave = () => {
        this.waiting.splice(this.waiting.indexOf(turn), 1);
        reject(signal?.reason);
      };
      const turn: Turn = {
        what,
        begin: () => {
          signal?.removeEventListener('abort', leave);
          resolve(turn);
        },
      };
      signal?.addEventListener('abort', leave, { once: true });
      this.waiting.push(turn);
      if (!this.now) this.next();
    });
  }

  private next(): void {
    this.now = this.waiting.shift() ?? null;
    this.now?.begin();
  }
}
