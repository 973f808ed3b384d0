import { meterForMany } from '../engine/compiled/meter.js';
import type { EvidenceMeter, PaddedMask } from '../engine/evidence.js';
import { Differencer, type DifferencerOptions } from '../engine/pipeline.js';
import type { Weather } from '../weather/weather.js';
import type { Recorder } from './recorder.js';
import type { Smoothing } from './smoothing.js';

/** Recorders by all that their differences depend on but masks; weather makes frames of its own. */
export function alike(recorders: readonly Recorder[]): Recorder[][] {
  const groups = new Map<string | Recorder, Recorder[]>();
  for (const recorder of recorders) {
    const { weather, differencer, floor } = recorder.track;
    const key = weather ? recorder : JSON.stringify([{ ...differencer, mask: null }, floor]);
    groups.set(key, [...(groups.get(key) ?? []), recorder]);
  }
  return [...groups.values()];
}

/**
 * Measures tracks that differ by their masks only, side by side: frames are smoothed, compared and sorted once, and what is done
 * again for each mask is only to join what it leaves.
 */
export class Alike {
  private readonly weather: Weather | null;
  private readonly options: DifferencerOptions;
  private readonly differencer: Differencer;
  private readonly meter: EvidenceMeter;
  private readonly members: { recorder: Recorder; mask: PaddedMask | null }[];
  private next: number;

  constructor(recorders: readonly Recorder[]) {
    const first = recorders.reduce((a, b) => (b.next < a.next ? b : a));
    const { weather, differencer, floor } = first.track;
    this.weather = weather?.() ?? null;
    this.options = { ...differencer, mask: null };
    this.differencer = new Differencer(this.options);
    this.next = first.next;
    // No reference depends on a mask, so that the state kept by any of them serves all.
    if (first.state) this.differencer.load(first.state);
    const watch = recorders.find(({ track }) => track.pieces)?.track.pieces;
    const meter = meterForMany(differencer.width, differencer.height, floor, watch);
    this.meter = meter;
    this.members = recorders.map((recorder) => {
      const { mask } = recorder.track.differencer;
      return { recorder, mask: mask && meter.maskFor(mask) };
    });
  }

  /** @param smoothing of the frame without weather */
  async take(frame: number, y: Uint8Array, time: number, smoothing: Smoothing): Promise<void> {
    if (frame !== this.next) return;
    this.next++;
    const { weather, differencer, meter, options } = this;
    const difference = weather
      ? differencer.differ(weather.apply(y, time), time)
      : differencer.differ(y, time, smoothing.by(options));
    meter.take(difference);
    const { seen } = differencer;
    const about = { frame, time, given: y, seen, difference, compared: () => differencer.compared() };
    const taking = this.members.filter(({ recorder }) => recorder.next === frame);
    for (const { recorder, mask } of taking) {
      const { pieces } = recorder.track;
      const evidence = mask ? meter.areasUnder(mask, pieces) : meter.areas(pieces);
      await recorder.take({ ...about, evidence });
    }
    differencer.advance(time);
    for (const { recorder } of taking) await recorder.checkpoint(() => differencer.save());
  }
}
