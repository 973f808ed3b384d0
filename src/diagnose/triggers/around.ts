import type { Camera } from '../../camera/description.js';
import type { Look } from './look.js';

/** Seconds before and after a trigger that are looked at, and at most so many bytes of frames at once. */
const AROUND = 12;
const MOST_BYTES = 48 * 2 ** 20;

/** How many analysed frames either side of a trigger are looked at. */
export function framesAround({ times, camera }: { times: ArrayLike<number>; camera: Camera }): number {
  const { width, height } = camera.analysis;
  const last = times.length - 1;
  const seconds = last > 0 ? (times[last]! - times[0]!) / last : 1;
  const room = Math.floor(MOST_BYTES / (width * height) / 2);
  return Math.max(4, Math.min(Math.round(AROUND / seconds), room));
}

interface Held {
  place: number;
  time: number;
  y: Uint8Array;
}

/** A look without its surroundings. */
export type BareLook = Omit<Look, 'frames' | 'at'>;

/** Holds, while analysed frames go by, only as many as lie around one trigger, and hands out each with what surrounds it. */
export class Around {
  private readonly held: Held[] = [];
  /** Arrays of frames that are no longer held, to be used again. */
  private readonly spare: Uint8Array[] = [];
  private readonly waiting: { trigger: number; place: number; look: BareLook }[] = [];

  /**
   * @param reach frames either side
   * @param onLook given every trigger with what surrounds it; its frames are written over afterwards
   */
  constructor(
    private readonly reach: number,
    private readonly onLook: (trigger: number, look: Look) => void,
  ) {}

  /**
   * Takes the next frame; after a gap nothing before it surrounds what comes.
   * @param y smoothed
   */
  take(place: number, time: number, y: Uint8Array): void {
    const last = this.held.at(-1);
    if (last && last.place !== place - 1) {
      this.end();
      this.spare.push(...this.held.splice(0).map((f) => f.y));
    }
    const kept = this.spare.pop() ?? new Uint8Array(y.length);
    kept.set(y);
    this.held.push({ place, time, y: kept });
  }

  /** What fired in the frame that was taken last, to be handed out once all around it was taken. */
  lookAround(trigger: number, look: BareLook): void {
    this.waiting.push({ trigger, place: this.held.at(-1)!.place, look });
  }

  /** Hands out what is surrounded by now, and lets go of what surrounds nothing to come; once for every frame taken. */
  settle(): void {
    const { held, reach, waiting } = this;
    const place = held.at(-1)!.place;
    this.handOut(place);
    const oldest = waiting[0]?.place ?? place;
    let gone = 0;
    while (held[gone]!.place < oldest - reach) this.spare.push(held[gone++]!.y);
    if (gone > 0) held.splice(0, gone);
  }

  /** Hands out all that is left: nothing more surrounds it. */
  end(): void {
    this.handOut(Number.POSITIVE_INFINITY);
  }

  private handOut(upTo: number): void {
    while (this.waiting.length > 0 && this.waiting[0]!.place + this.reach <= upTo) {
      const { trigger, place, look } = this.waiting.shift()!;
      const frames = this.held.filter((f) => Math.abs(f.place - place) <= this.reach);
      this.onLook(trigger, { ...look, frames, at: frames.findIndex((f) => f.place === place) });
    }
  }
}
