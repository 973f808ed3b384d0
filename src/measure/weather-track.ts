import { meterForMany } from '../engine/compiled/meter.js';
import type { EvidenceMeter, PaddedMask } from '../engine/evidence.js';
import { Differencer, type DifferencerOptions } from '../engine/pipeline.js';
import type { EvidenceRow } from '../store/evidence-codec.js';
import type { Setup } from '../weather/setup.js';
import { createWeather, type Weather } from '../weather/weather.js';
import { BoxMeter, type BoxRows } from './boxes.js';

/** One kind of weather, and how a camera looks at frames in it: plain data, which another thread can be told. */
export interface WeatherTrack {
  setup: Setup;
  differencer: DifferencerOptions;
  /** The lowest level of which evidence is wanted. */
  floor: number;
  /** What is to be measured within the boxes of visits; null: nothing. */
  boxes: BoxRows | null;
}

/** Puts a track's weather onto frames, one after the other, and measures them. */
export class WeatherMeter {
  readonly #weather: Weather;
  readonly #differencer: Differencer;
  readonly #meter: EvidenceMeter;
  readonly #mask: PaddedMask | null;
  readonly #boxes: BoxMeter | null;

  constructor({ setup, differencer, floor, boxes }: WeatherTrack) {
    const { width, height, mask } = differencer;
    this.#weather = createWeather(setup);
    this.#differencer = new Differencer({ ...differencer, mask: null });
    this.#meter = meterForMany(width, height, floor);
    this.#mask = mask && this.#meter.maskFor(mask);
    this.#boxes = boxes && new BoxMeter(boxes, width, height, floor, mask);
  }

  /**
   * @param y luminance as recorded
   * @param time seconds from the clip's start; rises from call to call
   * @returns an object that the next call may give again
   */
  take(frame: number, y: Uint8Array, time: number): EvidenceRow {
    const difference = this.#differencer.next(this.#weather.apply(y, time), time);
    this.#boxes?.take(frame, difference);
    this.#meter.take(difference);
    return this.#mask ? this.#meter.areasUnder(this.#mask) : this.#meter.areas();
  }

  /** All that was measured within boxes, encoded, once the last frame is taken; null where nothing was wanted. */
  get boxes(): Uint8Array | null {
    return this.#boxes?.bytes ?? null;
  }
}
