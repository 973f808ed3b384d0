import type { EvidenceRow } from '../store/evidence-store.js';
import type { Recorder } from './recorder.js';
import { ThreadEnded, WeatherThreads } from './threads.js';
import type { WeatherTrack } from './weather-track.js';

/** Tracks that are measured on other threads. */
export class Apart {
  /** Whether one of the threads was ended: what they have not measured is none of theirs any more. */
  isOver = false;

  private constructor(
    readonly recorders: readonly Recorder[],
    private readonly threads: WeatherThreads,
  ) {}

  /** @returns null where all are better measured on this thread */
  static async start(
    recorders: readonly Recorder[],
    frames: number,
    most: number | undefined,
  ): Promise<Apart | null> {
    const apart = recorders.filter(({ track }) => track.apart);
    const tracks = apart.map(({ track: { apart: told } }): WeatherTrack => {
      const { keepBoxes: _, ...plain } = told!;
      return plain;
    });
    const takeUp = (track: number, row: EvidenceRow) => apart[track]!.keep(row);
    const threads = await WeatherThreads.start(tracks, frames, takeUp, most);
    return threads && new Apart(apart, threads);
  }

  async take(frame: number, y: Uint8Array, time: number): Promise<void> {
    if (!this.isOver) await this.#unlessEnded(() => this.threads.take(frame, y, time));
  }

  async finish(): Promise<void> {
    if (this.isOver) return;
    await this.#unlessEnded(async () => {
      const boxes = await this.threads.finish();
      this.recorders.forEach(({ track }, i) => {
        track.apart?.keepBoxes(boxes[i] ?? null);
      });
    });
  }

  async #unlessEnded(act: () => Promise<void>): Promise<void> {
    try {
      await act();
    } catch (error) {
      if (!(error instanceof ThreadEnded)) throw error;
      this.isOver = true;
      // At once, for what they hold may be what there is too little of.
      await this.close();
    }
  }

  close(): Promise<void> {
    return this.threads.close();
  }
}
