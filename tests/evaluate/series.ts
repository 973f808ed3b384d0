import seedrandom from 'seedrandom';
import { columnsFrom } from '../../src/sweep/columns.js';
import type { Film } from './film.js';

/**
 * Evidence without pixels: how large an area changes by how much is drawn straight from what happens. The background comes
 * in bursts, visits come with a margin each, and recordings differ from one another as wholes. Shares neither code nor
 * constants with the gardens and the textures.
 */
export interface SeriesOptions {
  seed: string;
  seconds: number;
  /** Frames a second. */
  rate: number;
  /** Seconds after which the weather is another, and with it all that one recording shares. */
  weather: number;
  visitsPerHour: number;
  framePixels: number;
}

/** Something that changes the picture: how strongly, over how many pixels, and how each frame takes part. */
interface Source {
  from: number;
  grey: number;
  pixels: number;
  /** Share of the strength that each frame from `from` on has. */
  course: Float64Array;
}

/** A film as evidence at every level from 0 to 255; everything follows from the seed. */
export function seriesFilm(options: SeriesOptions): Film {
  const { seed, seconds, rate, weather, visitsPerHour, framePixels } = options;
  const random = seedrandom(`series ${seed}`);
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const about = (middle: number, spread: number) => middle * Math.exp(spread * normal());
  const wait = (perHour: number) => (-Math.log(1 - random()) * 3600) / perHour;
  const frames = Math.round(seconds * rate);

  const site = {
    burstsPerHour: about(50, 0.7),
    burstGrey: about(13, 0.35),
    burstPixels: about(90, 0.7),
    visitGrey: about(26, 0.3),
    visitPixels: about(220, 0.5),
    /** How much one recording differs from another. */
    differs: 0.1 + 0.5 * random(),
  };
  const sources: Source[] = [];
  const visits: { start: number; end: number; type: 'animal' }[] = [];
  const courseOf = (length: number, holds: number, rest: number) => {
    let level = normal();
    return Float64Array.from({ length }, () => {
      level = holds * level + Math.sqrt(1 - holds * holds) * normal();
      return random() < rest ? 0.1 : 1 / (1 + Math.exp(-1 - 1.2 * level));
    });
  };
  for (let start = 0; start < seconds; start += weather) {
    const end = Math.min(seconds, start + weather);
    const strength = about(1, site.differs * 0.6);
    const often = about(1, site.differs);
    const seen = about(1, site.differs * 0.4);
    for (let t = start + wait(site.burstsPerHour * often); t < end; t += wait(site.burstsPerHour * often)) {
      const lasts = Math.min(60, about(5, 0.9));
      sources.push({
        from: Math.floor(t * rate),
        grey: about(site.burstGrey * strength, 0.35),
        pixels: about(site.burstPixels * strength, 0.8),
        course: courseOf(Math.max(1, Math.round(lasts * rate)), 0.7, 0),
      });
    }
    for (let t = start + wait(visitsPerHour); t < end; t += wait(visitsPerHour)) {
      const lasts = Math.min(40, about(5, 0.6));
      visits.push({ start: t, end: Math.min(seconds, t + lasts), type: 'animal' });
      sources.push({
        from: Math.floor(t * rate),
        grey: about(site.visitGrey * seen, 0.35),
        pixels: about(site.visitPixels * seen, 0.7),
        course: courseOf(Math.max(1, Math.round(lasts * rate)), 0.5, 0.45),
      });
    }
  }

  const hum = Float64Array.from({ length: frames }, () => about(4, 0.2));
  const drawn = new Map<string, Uint32Array>();
  const column = (level: number, kind: 'region' | 'changed'): Uint32Array => {
    const key = `${level} ${kind}`;
    const known = drawn.get(key);
    if (known) return known;
    const areas = Float64Array.from(hum, (grey) => 30 * fall(level, grey));
    for (const { from, grey, pixels, course } of sources) {
      course.forEach((share, i) => {
        const k = from + i;
        if (k >= frames) return;
        const area = pixels * share * fall(level, grey * (0.4 + 0.6 * share));
        areas[k] = kind === 'region' ? Math.max(areas[k]!, area) : areas[k]! + 1.6 * area;
      });
    }
    const whole = Uint32Array.from(areas, (area) => Math.min(framePixels, Math.round(area)));
    drawn.set(key, whole);
    return whole;
  };
  const inOrder = visits.sort((a, b) => a.start - b.start);
  return {
    times: Float64Array.from({ length: frames }, (_, k) => k / rate),
    seconds,
    labels: { version: 1, visits: inOrder },
    ...columnsFrom(column),
  };
}

/** Share of a thing's pixels that change by a level at least. */
function fall(level: number, grey: number): number {
  return Math.exp(-((level / grey) ** 2));
}
