import type { EvidenceRow, EvidenceStore } from '../store/evidence-store.js';
import type { Moment, Track } from './track.js';

/** A track, and where its evidence is kept. */
export interface Kept {
  track: Track;
  store: EvidenceStore;
}

/** Keeps what is measured along one track. */
export class Recorder {
  private constructor(
    readonly track: Track,
    private readonly store: EvidenceStore,
    /** The frame to be taken next. */
    public next: number,
    /** That of the differencer before it; null at the first frame. */
    readonly state: Uint8Array | null,
  ) {}

  static async resume({ track, store }: Kept): Promise<Recorder> {
    const point = track.weather || track.anew ? null : await store.resumePoint();
    return new Recorder(track, store, point?.frame ?? 0, point?.state ?? null);
  }

  async take(moment: Moment): Promise<void> {
    await this.track.watch?.(moment);
    await this.keep(moment.evidence);
  }

  async keep(evidence: EvidenceRow): Promise<void> {
    await this.store.append(evidence);
    this.next++;
  }

  /** @param state of the differencer, once it has taken the frame in */
  async checkpoint(state: () => Uint8Array): Promise<void> {
    if (!this.track.weather) await this.store.checkpoint(state);
  }
}
