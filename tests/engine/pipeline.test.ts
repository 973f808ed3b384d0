import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type DirectOptions, DirectReplay } from '../../src/engine/direct.js';
import { EvidenceMeter } from '../../src/engine/evidence.js';
import { Differencer } from '../../src/engine/pipeline.js';
import { isActive, levelOf, triggersOf } from '../../src/engine/triggers.js';
import { randomBytes } from './frames.js';

interface Clip {
  readonly frames: readonly Uint8Array[];
  readonly times: readonly number[];
}

/** Frames of noise with a bright patch that wanders, at uneven times. */
function clipOf(width: number, height: number, length: number, seed: string): Clip {
  const path = randomBytes(3 * length, `${seed} path`);
  const frames = Array.from({ length }, (_, k) => {
    const y = randomBytes(width * height, `${seed} ${k}`, 24);
    const [left, top, size] = path.subarray(3 * k);
    return y.map((value, i) => {
      const inside = i % width >= left! % width && Math.floor(i / width) >= top! % height;
      return value + (inside ? (size! % 5) * 12 : 0);
    });
  });
  const steps = randomBytes(length, `${seed} times`, 9);
  const times = [0];
  for (const step of steps.subarray(1)) times.push(times.at(-1)! + 0.1 + step / 10);
  return { frames, times };
}

function direct(options: DirectOptions, { frames, times }: Clip): number[] {
  const replay = new DirectReplay(options);
  return [...frames.keys()].filter((k) => replay.step(frames[k]!, times[k]!));
}

function throughEvidence(options: DirectOptions, { frames, times }: Clip): number[] {
  const level = levelOf(options.threshold);
  const differencer = new Differencer(options);
  const meter = new EvidenceMeter(options.width, options.height);
  const kept = frames.map((frame, k) => {
    const evidence = meter.measure(differencer.next(frame, times[k]!));
    return { changed: evidence.changed[level]!, region: evidence.region[level]! };
  });
  const active = (k: number) =>
    isActive(kept[k]![options.area], kept[k]!.changed, options.minimumArea, options.mostChanged);
  return triggersOf(times, active, options.persistence, options.busy);
}

const [WIDTH, HEIGHT] = [7, 6];
const PIXELS = WIDTH * HEIGHT;

const settings: fc.Arbitrary<DirectOptions> = fc.record({
  width: fc.constant(WIDTH),
  height: fc.constant(HEIGHT),
  smooth: fc.integer({ min: 0, max: 3 }),
  reference: fc.oneof(
    fc.record({ kind: fc.constant('previous' as const), lag: fc.integer({ min: 1, max: 4 }) }),
    fc.record({
      kind: fc.constant('average' as const),
      seconds: fc.double({ min: 0.2, max: 5, noNaN: true }),
    }),
  ),
  whileBusy: fc.constant('continues' as const),
  area: fc.constantFrom('region' as const, 'changed' as const),
  mask: fc.option(fc.uint8Array({ minLength: PIXELS, maxLength: PIXELS, max: 1 })),
  threshold: fc.double({ min: 0.5, max: 40, noNaN: true }),
  minimumArea: fc.integer({ min: 1, max: 25 }),
  mostChanged: fc.integer({ min: 10, max: PIXELS }),
  persistence: fc.integer({ min: 1, max: 3 }),
  busy: fc.double({ min: 0, max: 4, noNaN: true }),
});
const clip = fc.string().map((seed) => clipOf(WIDTH, HEIGHT, 24, seed));

describe('for any clip and settings', () => {
  it('evidence and direct replay give the same triggers', () => {
    let triggers = 0;
    fc.assert(
      fc.property(settings, clip, (options, recording) => {
        const fired = direct(options, recording);
        triggers += fired.length;
        expect(throughEvidence(options, recording)).toEqual(fired);
      }),
      { seed: 20260504, numRuns: 400 },
    );
    expect(triggers).toBeGreaterThan(400); // or the property says little
  });

  const stricter: [string, (options: DirectOptions, by: number) => Partial<DirectOptions>][] = [
    ['a longer cooldown', ({ busy }, by) => ({ busy: busy + by })],
    ['a higher threshold', ({ threshold }, by) => ({ threshold: threshold + 4 * by })],
    ['a larger minimum area', ({ minimumArea }, by) => ({ minimumArea: minimumArea + Math.ceil(3 * by) })],
  ];
  it.each(stricter)('no more triggers come of %s, while mostChanged is the whole frame', (_, change) => {
    fc.assert(
      fc.property(settings, clip, fc.double({ min: 0.01, max: 3, noNaN: true }), (any, recording, by) => {
        const options = { ...any, mostChanged: PIXELS };
        const fewer = throughEvidence({ ...options, ...change(options, by) }, recording);
        expect(fewer.length).toBeLessThanOrEqual(throughEvidence(options, recording).length);
      }),
      { seed: 20260505, numRuns: 150 },
    );
  });

  it('a differencer goes on exactly from what another saved', () => {
    fc.assert(
      fc.property(settings, clip, fc.integer({ min: 0, max: 23 }), (options, { frames, times }, seen) => {
        const whole = new Differencer(options);
        const expected = frames.map((frame, k) => [...whole.next(frame, times[k]!)]);
        const first = new Differencer(options);
        for (let k = 0; k < seen; k++) first.next(frames[k]!, times[k]!);
        const second = new Differencer(options);
        second.next(frames[5]!, 77);
        second.load(first.save());
        const rest = frames.slice(seen).map((frame, i) => [...second.next(frame, times[seen + i]!)]);
        expect(rest).toEqual(expected.slice(seen));
      }),
      { seed: 20260506, numRuns: 60 },
    );
  });
});

it('a differencer refuses a state that is cut short', () => {
  const options = {
    width: 2,
    height: 1,
    smooth: 0,
    reference: { kind: 'previous', lag: 1 },
    mask: null,
  } as const;
  const differencer = new Differencer(options);
  differencer.next(Uint8Array.of(1, 2), 0);
  const state = differencer.save();
  expect(() => new Differencer(options).load(state.subarray(0, 5))).toThrow(RangeError);
  expect(() => new Differencer(options).load(state.subarray(0, 9))).toThrow(RangeError);
});
