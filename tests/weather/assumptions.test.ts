import seedrandom from 'seedrandom';
import { expect, it } from 'vitest';
import { type AssumptionName, assumptionNames, assumptionOf } from '../../src/weather/assumptions.js';
import type { Setup } from '../../src/weather/setup.js';
import { createWeather } from '../../src/weather/weather.js';
import { makeSetup } from './made.js';

const [width, height] = [96, 72];
const dice = seedrandom('assumptions');
const still = Uint8Array.from({ length: width * height }, () => 40 + 150 * dice());
/** Leaves above, ground below, a camera in a tree behind a rain cover. */
const foliage = Uint8Array.from({ length: width * height }, (_, i) => (i < (width * height) / 2 ? 255 : 0));
const geometry = { hfov: 62.2, subject: 2, foliage: 1.5, height: 1, mount: 'tree', cover: true } as const;
const wanted = { wind: { wind: 5 }, rain: { rain: 40 }, 'low light': { light: 5 } };

function setupOf(kind: keyof typeof wanted): Setup {
  const to = wanted[kind];
  return makeSetup(width, height, { from: { wind: 1, rain: 0, light: 20_000 }, to, foliage, geometry });
}

/** A minute, a frame every two seconds: long enough for what seldom falls. */
function filmed(setup: Setup): number[] {
  const weather = createWeather({ ...setup, rate: 0.5 });
  return Array.from({ length: 30 }, (_, k) => Array.from(weather.apply(still.slice(), 2 * k))).flat();
}

const made = assumptionNames.flatMap((name) => {
  const { weather, also } = assumptionOf(name);
  return [weather, ...(also ? [also] : [])].map((kind): [AssumptionName, keyof typeof wanted] => [
    name,
    kind,
  ]);
});

it.each(made)('%s, doubted, changes frames of %s', (assumption, kind) => {
  const setup = setupOf(kind);
  const undoubted = filmed(setup);
  const changes = (times: number) => {
    const frames = filmed({ ...setup, doubt: { assumption, times } });
    return frames.some((value, i) => value !== undoubted[i]);
  };
  expect([changes(0.5), changes(2)]).toContain(true);
});
