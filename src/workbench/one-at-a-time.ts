import { Problem } from '../base/problem.js';
import type { OpenPorts } from '../jobs/ports.js';

/** Lets one job run at a time; a few wait their turn, and more are refused. */
export class OneAtATime {
  private running = false;
  private readonly waiting: (() => void)[] = [];

  /** @param most that wait */
  constructor(private readonly most: number) {}

  /**
   * @throws Problem 'usage' where too many wait already, the signal's reason where it is aborted while it waits, and whatever
   * the job throws
   */
  async run<T>(ports: Pick<OpenPorts, 'onPhase' | 'signal'>, job: () => Promise<T>): Promise<T> {
    await this.turn(ports);
    try {
      ports.signal?.throwIfAborted();
      return await job();
    } finally {
      const next = this.waiting.shift();
      if (next) next();
      else this.running = false;
    }
  }

  private async turn({ onPhase, signal }: Pick<OpenPorts, 'onPhase' | 'signal'>): Promise<void> {
    if (!this.running) {
      this.running = true;
      return;
    }
    if (this.waiting.length >= this.most) {
      throw new Problem(
        'usage',
        `one job is running and ${this.most} wait already; wait until one is done, or stop one, and ask again`,
      );
    }
    onPhase('waiting for another job to end');
    await new Promise<void>((go, fail) => {
      const mine = () => {
        signal?.removeEventListener('abort', leave);
        go();
      };
      const leave = () => {
        this.waiting.splice(this.waiting.indexOf(mine), 1);
        fail(signal?.reason);
      };
      this.waiting.push(mine);
      signal?.addEventListener('abort', leave, { once: true });
    });
  }
}

/** All that takes minutes and both cores: tuning, drawing reports. */
export const heavyWork = new OneAtATime(2);
