import { giveBackBeforeEnd } from '../files/undivided.js';
import type { Hold, Queue, Taken } from './queue.js';

/**
 * What a worker takes from a queue for one job: the job, then its clips. Should the process be ended, all of it is given back, for
 * others would wait until the lease is over: also what the queue gave and has not said yet, whose answer is waited for.
 */
export class Claim {
  #taken: Promise<Taken | null> = Promise.resolve(null);
  #hold: Promise<Hold | null> = Promise.resolve(null);
  #ending = false;
  readonly #forget = giveBackBeforeEnd(() => this.giveBack());

  constructor(private readonly queue: Pick<Queue, 'take' | 'hold'>) {}

  /** As the queue's. Once the process ends nothing more is taken: then it never comes back. */
  take(): Promise<Taken | null> {
    if (this.#ending) return never();
    this.#taken = this.queue.take();
    return this.#unlessEnding(this.#taken);
  }

  /** As the queue's; the same. */
  hold(names: readonly string[]): Promise<Hold | null> {
    if (this.#ending) return never();
    this.#hold = this.queue.hold(names);
    return this.#unlessEnding(this.#hold);
  }

  /** Of what the queue has no answer to, nothing can be given back. */
  async giveBack(): Promise<void> {
    this.#ending = true;
    const [taken, hold] = await Promise.allSettled([this.#taken, this.#hold]);
    await Promise.allSettled([
      taken.status === 'fulfilled' ? taken.value?.later(0) : null,
      hold.status === 'fulfilled' ? hold.value?.release() : null,
    ]);
  }

  /** Lets go of the clips: the job itself has ended, or went back. */
  async end(): Promise<void> {
    this.#forget();
    await (await this.#hold.catch(() => null))?.release();
  }

  async #unlessEnding<T>(answer: Promise<T>): Promise<T> {
    const given = await answer;
    return this.#ending ? never() : given;
  }
}

/** The process is ending: whoever waits goes on with nothing. */
function never(): Promise<never> {
  return new Promise(() => undefined);
}
