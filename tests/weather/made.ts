import { defaultGeometry, defaultOptics } from '../../src/weather/defaults.js';
import type { Setup } from '../../src/weather/setup.js';

/** A setup of dry, bright frames without foliage, but for what a test sets. */
export function makeSetup(width: number, height: number, set: Partial<Setup>): Setup {
  return {
    width,
    height,
    rate: 5,
    length: 60,
    seed: 'made',
    geometry: defaultGeometry,
    optics: defaultOptics,
    from: { wind: 0, rain: 0, light: 10_000 },
    to: {},
    foliage: new Uint8Array(width * height),
    inFront: [],
    sway: 1,
    ...set,
  };
}
