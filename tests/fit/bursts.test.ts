import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import { burstsIn } from '../../src/fit/fired/bursts.js';

const FRAME = 0.2;

/** Triggers of a camera under which things stay for a while: as soon as it may fire again, a frame or two later, or after a pause. */
function triggersOf(cooldown: number, count: number, seed: string): number[] {
  const random = seedrandom(seed);
  let now = 10;
  return Array.from({ length: count }, () => {
    const at = now;
    const pause = random() < 0.4 ? 20 * random() : 0;
    now = Math.ceil((now + cooldown + pause + FRAME * Math.floor(3 * random())) / FRAME - 1e-9) * FRAME;
    return at;
  });
}

const inBursts = (triggers: readonly number[], photos: number, interval: number) =>
  triggers.flatMap((time) => Array.from({ length: photos }, (_, i) => time + i * interval));
const whole = (times: readonly number[]) => times.map((time) => Math.floor(time + 0.43));
/** Seconds to the hundredth, so that their rounding is not noticed. */
const exact = (times: readonly number[]) => times.map((time) => Number((time + 0.0037).toFixed(4)));

/** DateTimeOriginal of 104 photos, counted from the first: 52 triggers, two photos 1 s apart, cooldown 3 s. */
const PAIRS = [
  0, 1, 3, 4, 7, 8, 10, 11, 13, 14, 17, 18, 20, 21, 23, 24, 27, 28, 33, 34, 42, 43, 45, 46, 48, 49, 52, 53,
  61, 62, 81, 82, 87, 88, 91, 92, 94, 95, 98, 99, 101, 102, 107, 108, 111, 112, 114, 115, 117, 118, 120, 121,
  124, 125, 127, 128, 130, 131, 133, 134, 136, 137, 140, 141, 158, 159, 171, 172, 174, 175, 177, 178, 180,
  181, 184, 185, 187, 188, 190, 191, 194, 195, 197, 198, 200, 201, 203, 204, 207, 208, 210, 211, 219, 220,
  222, 223, 225, 226, 229, 230, 233, 234, 236, 237,
];

describe('bursts of a camera that soon fires again', () => {
  it('are seen where the rest is twice the interval, in whole seconds', () => {
    const { times, burst } = burstsIn(PAIRS, 1, null);
    expect(burst).toEqual({ photos: 2, interval: 1 });
    expect(times).toEqual(PAIRS.filter((_, i) => i % 2 === 0));
  });

  it.each([
    { photos: 2, interval: 1, cooldown: 3 },
    { photos: 3, interval: 1, cooldown: 5 },
    { photos: 2, interval: 1, cooldown: 4 },
    { photos: 3, interval: 0.5, cooldown: 4 },
  ])('$photos photos $interval s apart, cooldown $cooldown s, in whole seconds and exact', (made) => {
    const { photos, interval, cooldown } = made;
    const triggers = triggersOf(cooldown, 60, `bursts ${photos} ${cooldown}`);
    const taken = inBursts(triggers, photos, interval);
    expect(burstsIn(whole(taken), 1, null)).toMatchObject({ times: whole(triggers), burst: { photos } });
    expect(burstsIn(exact(taken), 0, null)).toMatchObject({ times: exact(triggers), burst: { photos } });
  });

  it('also with some photos missing', () => {
    const triggers = triggersOf(3, 80, 'missing');
    const taken = inBursts(triggers, 2, 1).filter((_, i) => i % 17 !== 5);
    const { times, burst } = burstsIn(whole(taken), 1, null);
    expect(burst).toMatchObject({ photos: 2 });
    expect(times).toHaveLength(80);
  });
});

describe('triggers that merely come regularly are no bursts', () => {
  it.each([1, 1.4, 1.5, 1.6, 2, 2.4, 3, 5])('cooldown %d s, something stays all the time', (cooldown) => {
    const times = Array.from({ length: 100 }, (_, i) => 10 + i * cooldown);
    expect(burstsIn(whole(times), 1, null).burst).toBeNull();
    expect(burstsIn(exact(times), 0, null).burst).toBeNull();
  });

  it.each([1, 1.5, 2, 2.4, 3, 5])('cooldown %d s, things stay for a while', (cooldown) => {
    for (let n = 0; n < 20; n++) {
      const times = triggersOf(cooldown, 100, `singles ${n}`);
      expect(burstsIn(whole(times), 1, null).burst).toBeNull();
      expect(burstsIn(exact(times), 0, null).burst).toBeNull();
    }
  });
});

describe('what is said of them', () => {
  it("by the owner goes before what is seen, and before the camera's description", () => {
    expect(burstsIn(PAIRS, 1, null, 1)).toEqual({ times: PAIRS, burst: null });
    expect(burstsIn([10, 11, 13, 14, 40, 41], 1, null, 2).times).toEqual([10, 13, 40]);
    expect(burstsIn([10, 11, 12, 40, 41, 42], 1, { photos: 2, interval: 1 }, 3).times).toEqual([10, 40]);
  });

  it('by the owner takes photos of one second and a single photo too', () => {
    expect(burstsIn([10, 10, 40, 40], 1, null, 2)).toMatchObject({ times: [10, 40], burst: { photos: 2 } });
    expect(burstsIn([10], 1, null, 2).times).toEqual([10]);
  });

  it("by the camera's description gives way to what the photos show", () => {
    expect(burstsIn(PAIRS, 1, { photos: 4, interval: 1 }).burst).toEqual({ photos: 2, interval: 1 });
  });
});
