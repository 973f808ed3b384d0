import seedrandom from 'seedrandom';
import { defaultCamera } from '../../src/camera/default.js';
import { cameraSchema } from '../../src/camera/description.js';
import type { Stretch } from '../../src/score/stretches.js';
import type { EvidenceRow } from '../../src/store/evidence-codec.js';
import { gaussian } from '../engine/frames.js';

/** Analysed frames per second. */
export const RATE = 5;
/** The lowest level that the made evidence has counts for. */
export const FLOOR = 6;

/** The default camera with finer dials: 50 x 20 x 5 x 10 = 50,000 settings. */
export const fineCamera = cameraSchema.parse({
  ...defaultCamera,
  controls: {
    sensitivity: { sets: 'threshold', from: 1, to: 50, step: 1, gives: [55, FLOOR] },
    minimumArea: { sets: 'minimumArea', choices: Array.from({ length: 20 }, (_, i) => 10 * (i + 1) ** 2) },
    persistence: { sets: 'persistence', choices: [1, 2, 3, 4, 5] },
    cooldown: { sets: 'cooldown', choices: [1, 2, 3, 5, 8, 12, 20, 30, 45, 60] },
  },
});

/** Visits of 5 to 25 seconds, about a minute apart. */
export function madeVisits(frames: number, seed: string): Stretch[] {
  const random = seedrandom(`${seed} visits`);
  const visits: Stretch[] = [];
  const seconds = frames / RATE;
  for (let start = 20; start + 25 < seconds; start += 60) {
    visits.push({ start: start + 10 * random(), end: start + 15 + 10 * random() });
  }
  return visits;
}

/**
 * Evidence as a windy hour gives it, without the pixels: specks of noise, gusts of some seconds that move much of the
 * frame, and animals that move in about half the frames of their visits. Counts fall off with the level as differences
 * of moving edges do, about exponentially. The row is used again for each frame.
 */
export function* madeEvidence(
  frames: number,
  visits: readonly Stretch[],
  seed: string,
): Generator<EvidenceRow> {
  const random = seedrandom(`${seed} evidence`);
  const row = { changed: new Uint32Array(256), region: new Uint32Array(256) };
  let gust = 0;
  let next = 0;
  for (let k = 0; k < frames; k++) {
    const time = k / RATE;
    if (gust < 1 / RATE && random() < 0.005) gust = 2 + 18 * random();
    gust = Math.max(0, gust - 1 / RATE);
    while (next < visits.length && visits[next]!.end < time) next++;
    const visited = next < visits.length && visits[next]!.start <= time && random() < 0.5;
    const wind = gust > 0 ? 8000 * Math.exp(gaussian(random)) : 3 * random();
    const animal = visited ? 400 * Math.exp(0.7 * gaussian(random)) : 0;
    const connected = 0.05 + 0.4 * random();
    for (let level = FLOOR; level < 256; level++) {
      const leaves = Math.min(60_000, wind) * Math.exp(-(level - FLOOR) / 9);
      const body = animal * Math.exp(-(level - FLOOR) / 25);
      row.changed[level] = leaves + body;
      row.region[level] = Math.max(connected * leaves, 0.8 * body);
    }
    yield row;
  }
}
