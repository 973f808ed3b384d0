import { randomBytes } from 'node:crypto';
import { Problem } from '../base/problem.js';
import { Received } from '../files/received.js';

/** Recordings that may be on their way at once. */
const MOST_AT_ONCE = 4;
/** A page that is there sends one piece after the other; one of which nothing came for so long was closed. */
const IDLE_MS = 60_000;

interface OnItsWay {
  files: Received;
  /** When a request for it ended last. */
  used: number;
  /** Requests for it that are being worked on. */
  working: number;
}

/** Recordings that are on their way from pages, by their ids. Those given up make room when the next one begins. */
export class Coming {
  private readonly all = new Map<string, OnItsWay>();
  private beginning: Promise<unknown> = Promise.resolve();

  /**
   * @param root the folder that they are kept in meanwhile
   * @param now milliseconds from whenever
   */
  constructor(
    private readonly root: string,
    private readonly now: () => number = () => performance.now(),
  ) {}

  /**
   * @returns the id of a new one
   * @throws Problem where there are too many, or nothing can be kept
   */
  begin(): Promise<string> {
    const begin = async () => {
      await this.dropIdle();
      if (this.all.size >= MOST_AT_ONCE) {
        throw new Problem(
          'usage',
          `expected at most ${MOST_AT_ONCE} recordings at once; let one finish first, or wait a minute after a page was closed`,
        );
      }
      const id = randomBytes(9).toString('base64url');
      this.all.set(id, { files: await Received.begin(this.root), used: this.now(), working: 0 });
      return id;
    };
    // One after the other, so that no more begin than there is room for.
    const begun = this.beginning.then(begin, begin);
    this.beginning = begun.catch(() => undefined);
    return begun;
  }

  /**
   * Works with what has come of one, which stays for so long.
   * @throws Problem where there is none of that id, and whatever the work throws
   */
  async use<T>(id: string, work: (files: Received) => Promise<T>): Promise<T> {
    const one = this.all.get(id);
    if (!one) {
      throw new Problem('file-missing', 'this recording is not on its way any more; choose it again');
    }
    one.working++;
    try {
      return await work(one.files);
    } finally {
      one.working--;
      one.used = this.now();
    }
  }

  /** Taken, or given up: what came of it is removed. */
  async end(id: string): Promise<void> {
    const one = this.all.get(id);
    this.all.delete(id);
    await one?.files.end();
  }

  private async dropIdle(): Promise<void> {
    for (const [id, { working, used }] of this.all) {
      if (working === 0 && this.now() - used >= IDLE_MS) await this.end(id);
    }
  }
}
