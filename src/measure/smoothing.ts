import type { DifferencerOptions } from '../engine/pipeline.js';
import { smooth } from '../engine/smooth.js';

/** A frame smoothed once for all that see it smoothed alike. */
export class Smoothing {
  private readonly smoothed = new Map<number, { y: Uint8Array; isDone: boolean }>();
  private y: Uint8Array = new Uint8Array();

  begin(y: Uint8Array): void {
    this.y = y;
    for (const one of this.smoothed.values()) one.isDone = false;
  }

  /** Overwritten with the next frame. */
  by({ width, height, smooth: radius }: DifferencerOptions): Uint8Array {
    if (radius === 0) return this.y;
    const kept = this.smoothed.get(radius) ?? { y: new Uint8Array(width * height), isDone: false };
    this.smoothed.set(radius, kept);
    if (!kept.isDone) smooth(this.y, width, height, radius, kept.y);
    kept.isDone = true;
    return kept.y;
  }
}
