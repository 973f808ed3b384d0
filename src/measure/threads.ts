import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import type { EvidenceRow } from '../store/evidence-codec.js';
import { LOAD, LOADS, shapeFor, ThreadMemory } from './thread-memory.js';
import type { Answer, Asked, Told } from './thread-talk.js';
import type { WeatherTrack } from './weather-track.js';

/** thread.ts as built, the same seen from where this file is written and from where it is built to. */
const PROGRAM = fileURLToPath(new URL('../../dist/program/thread.js', import.meta.url));
/** More are not kept busy by one that decodes. */
const MOST = 8;
/** Frames, all tracks together, that take about as long as a thread takes to start. */
const WORTH_IT = 200;

/** How many threads are worth starting; with one there is none to share with. */
function wanted(tracks: number, frames: number, most = availableParallelism()): number {
  if (tracks * frames < WORTH_IT) return 1;
  return Math.min(most, tracks, MOST);
}

/** A thread was ended before it was done, mostly for want of memory: it is no fault of what it did. */
export class ThreadEnded extends Error {}

/**
 * Threads that put weather onto the frames of a clip and measure them, each some of the tracks, while this one decodes. Which
 * of them measures a track, and when, changes nothing in what it comes to.
 */
export class WeatherThreads {
  readonly #memory: ThreadMemory;
  /** The times of the frames of the load that is being filled. */
  #times: number[] = [];
  #load = 0;
  #first = 0;
  /** For each load: kept when all that it came to was taken up, so that it may be filled anew. */
  readonly #taken: Promise<void>[] = Array.from({ length: LOADS }, async () => undefined);

  private constructor(
    private readonly threads: readonly Thread[],
    told: readonly Told[],
    private readonly tracks: number,
    private readonly takeUp: (track: number, row: EvidenceRow) => Promise<void>,
  ) {
    this.#memory = new ThreadMemory(told[0]!.shape);
  }

  /**
   * @param frames how many there will be
   * @param takeUp given what each track comes to, frame by frame, in order
   * @param most threads; left out: one a core
   * @returns null where threads are not worth it or cannot be started here: this one can do the same
   */
  static async start(
    tracks: readonly WeatherTrack[],
    frames: number,
    takeUp: (track: number, row: EvidenceRow) => Promise<void>,
    most?: number,
  ): Promise<WeatherThreads | null> {
    const count = wanted(tracks.length, frames, most);
    if (count < 2) return null;
    const { width, height } = tracks[0]!.differencer;
    const shape = shapeFor(width * height, tracks.length);
    const places = tracks.map((track, place) => ({ track, place }));
    // Tracks of one kind, which cost alike, stand side by side: dealt out in turn they are shared evenly.
    const told = Array.from({ length: count }, (_, t) => ({
      shape,
      tracks: places.filter(({ place }) => place % count === t),
    }));
    const threads: Thread[] = [];
    try {
      for (const each of told) threads.push(new Thread(each));
      await Promise.all(threads.map((thread) => thread.ready));
    } catch {
      await Promise.all(threads.map((thread) => thread.close()));
      return null;
    }
    return new WeatherThreads(threads, told, tracks.length, takeUp);
  }

  /** @throws what a thread throws, or ThreadEnded */
  async take(frame: number, y: Uint8Array, time: number): Promise<void> {
    if (this.#times.length === 0) {
      await this.#taken[this.#load];
      this.#first = frame;
    }
    this.#memory.frame(this.#load, this.#times.length).set(y);
    this.#times.push(time);
    if (this.#times.length === LOAD) this.#send();
  }

  /**
   * To be called when the last frame is taken.
   * @returns for each track what was measured within boxes
   */
  async finish(): Promise<(Uint8Array | null)[]> {
    if (this.#times.length > 0) this.#send();
    await Promise.all(this.#taken);
    const boxes: (Uint8Array | null)[] = new Array(this.tracks).fill(null);
    for (const thread of this.threads) {
      const answer = await thread.ask('end');
      if (typeof answer === 'string') continue;
      thread.places.forEach((place, i) => {
        boxes[place] = answer.boxes[i] ?? null;
      });
    }
    return boxes;
  }

  /** Nothing is taken up any more when it is done. */
  async close(): Promise<void> {
    await Promise.all(this.threads.map((thread) => thread.close()));
    await Promise.allSettled(this.#taken);
  }

  #send(): void {
    const load = this.#load;
    const asked = { load, first: this.#first, times: this.#times };
    const done = this.threads.map((thread) => thread.ask(asked));
    const before = this.#taken[(load + LOADS - 1) % LOADS]!;
    const taken = Promise.all([before, ...done]).then(() => this.#takeUp(load, asked.times.length));
    // Told to whoever next waits for it.
    taken.catch(() => undefined);
    this.#taken[load] = taken;
    this.#load = (load + 1) % LOADS;
    this.#times = [];
  }

  async #takeUp(load: number, frames: number): Promise<void> {
    for (let n = 0; n < frames; n++) {
      for (let track = 0; track < this.tracks; track++)
        await this.takeUp(track, this.#memory.row(load, n, track));
    }
  }
}

/** One thread, which answers all that it is asked, in order. */
class Thread {
  readonly places: readonly number[];
  /** Kept once it runs. */
  readonly ready: Promise<Answer>;
  readonly #worker: Worker;
  #waiting: { kept: (answer: Answer) => void; broken: (error: unknown) => void }[] = [];
  /** Why it answers no more. */
  #end: unknown = null;

  constructor(told: Told) {
    this.places = told.tracks.map(({ place }) => place);
    this.#worker = new Worker(PROGRAM, { workerData: told });
    this.#worker.on('message', (answer: Answer) => this.#waiting.shift()?.kept(answer));
    this.#worker.on('error', (error) => this.#ended(isOutOfMemory(error) ? new ThreadEnded() : error));
    this.#worker.on('exit', () => this.#ended(new ThreadEnded()));
    this.ready = this.#answer();
  }

  ask(asked: Asked): Promise<Answer> {
    if (this.#end === null) this.#worker.postMessage(asked);
    return this.#answer();
  }

  async close(): Promise<void> {
    await this.#worker.terminate();
  }

  #answer(): Promise<Answer> {
    const answer = new Promise<Answer>((kept, broken) => {
      if (this.#end === null) this.#waiting.push({ kept, broken });
      else broken(this.#end);
    });
    // Several may break at once, of which one is told.
    answer.catch(() => undefined);
    return answer;
  }

  #ended(why: unknown): void {
    this.#end ??= why;
    for (const { broken } of this.#waiting.splice(0)) broken(this.#end);
  }
}

function isOutOfMemory(error: unknown): boolean {
  return error instanceof Error && 'code' in error && error.code === 'ERR_WORKER_OUT_OF_MEMORY';
}
