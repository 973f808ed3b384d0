import { describe, expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { burstAgainst } from '../../src/jobs/evening/burst-shown.js';
import { heldAgainst } from '../../src/jobs/evening/held.js';
import type { PromisedFile } from '../../src/jobs/evening/promised.js';
import { smallCamera } from '../support/clips.js';

const camera = (photos: number, ...cooldowns: number[]) =>
  cameraSchema.parse({
    ...smallCamera,
    burst: { photos, interval: 1 },
    controls: { pause: { sets: 'cooldown', choices: cooldowns } },
  });
/** Twelve visits ten minutes apart, with photos so many seconds after each began. */
const visits = (...after: number[]) =>
  Array.from({ length: 12 }, (_, i) => after.map((seconds) => 600 * i + seconds)).flat();

describe('photos against the burst that camera.json says', () => {
  it.each<[string, number[], ReturnType<typeof camera>, number | null]>([
    ['two triggers at each visit, as soon as it may fire again', visits(0, 2), camera(1, 2, 10), null],
    ['two photos sooner after each other than it fires again', visits(0, 2), camera(1, 5, 10), 2],
    ['pairs that follow each other at each visit', visits(0, 1, 4, 5, 9, 10), camera(1, 1), 2],
    ['one after the other while something moves on', visits(0, 2, 4, 6, 8, 10), camera(1, 2), null],
    ['the third of most bursts deleted', visits(0, 1).toSpliced(10, 0, 3002), camera(3, 5), null],
    ['as many as it says', visits(0, 1), camera(2, 5), null],
  ])('%s', (_, times, described, photos) => {
    expect(burstAgainst(times, described)?.photos ?? null).toBe(photos);
  });

  it('are counted as camera.json says where that may be right, and that they look otherwise is kept', () => {
    const promised: PromisedFile = {
      kind: 'tune',
      site: null,
      nothing: null,
      photosPerTrigger: 1,
      stretches: [],
    };
    const held = heldAgainst(promised, camera(1, 2, 10), null, visits(0, 2));
    expect(held).toMatchObject({ photosPerTrigger: 1, saidBy: 'camera', shown: 2 });
  });
});
