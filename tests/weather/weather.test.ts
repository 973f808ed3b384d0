import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import { defaultGeometry, defaultOptics } from '../../src/weather/defaults.js';
import type { Conditions, Setup } from '../../src/weather/setup.js';
import { createWeather } from '../../src/weather/weather.js';

const width = 48;
const height = 32;
const random = seedrandom('weather');
const frame = Uint8Array.from({ length: width * height }, () => 40 + 150 * random());

function setup(to: Conditions, seed = '7'): Setup {
  return {
    width,
    height,
    rate: 5,
    length: 10,
    seed,
    geometry: defaultGeometry,
    optics: defaultOptics,
    from: { wind: 0, rain: 0, light: 10_000 },
    to,
    foliage: new Uint8Array(width * height).fill(255),
    inFront: [],
    sway: 1,
  };
}

function played(to: Conditions, seed?: string): Uint8Array[] {
  const weather = createWeather(setup(to, seed));
  return Array.from({ length: 6 }, (_, k) => Uint8Array.from(weather.apply(frame, k / 5)));
}

describe('weather', () => {
  it('leaves frames as they are when nothing is wanted, and assumes nothing', () => {
    const weather = createWeather(setup({}));
    expect(weather.apply(frame, 0)).toEqual(frame);
    expect(weather.assumed).toEqual([]);
  });

  it.each<[string, Conditions]>([
    ['wind', { wind: 5 }],
    ['rain', { rain: 8 }],
    ['low light', { light: 5 }],
  ])('%s changes frames and says what it assumes', (_, to) => {
    expect(played(to)[5]).not.toEqual(frame);
    expect(createWeather(setup(to)).assumed.length).toBeGreaterThan(0);
  });

  it('says of wind and rain at once that nothing was held against both', () => {
    const told = (to: Conditions) => createWeather(setup(to)).assumed.some((line) => /at once/.test(line));
    expect(told({ wind: 5, rain: 8 })).toBe(true);
    expect(told({ wind: 5 }) || told({ rain: 8 })).toBe(false);
  });

  it('put onto one still frame shows nothing of the frames after it', () => {
    const other = frame.map((y) => 255 - y);
    const put = (still: boolean, later: Uint8Array) => {
      const weather = createWeather({ ...setup({ light: 5 }), ...(still && { still }) });
      weather.apply(frame, 0);
      return Uint8Array.from(weather.apply(later, 0.2));
    };
    expect(put(true, other)).toEqual(put(false, frame));
    expect(put(false, other)).not.toEqual(put(false, frame));
  });

  it('gives the same bytes for the same seed, and others for another', () => {
    const to = { wind: 4, rain: 3, light: 20 };
    expect(played(to)).toEqual(played(to));
    expect(played(to, '8')).not.toEqual(played(to));
  });

  it('does not write into what it was given', () => {
    const before = Uint8Array.from(frame);
    createWeather(setup({ wind: 5, rain: 5, light: 5 })).apply(frame, 0);
    expect(frame).toEqual(before);
  });
});
