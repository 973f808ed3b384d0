import { describe, expect, it } from 'vitest';
import {
  createReference,
  memoryOf,
  type Reference,
  type ReferenceModel,
} from '../../src/engine/reference.js';
import { randomBytes } from './frames.js';

const HALVING: ReferenceModel = { kind: 'average', seconds: 1 / Math.LN2 };

/** The differences of a one-pixel recording, one second from frame to frame. */
function differences(reference: Reference, values: number[]): number[] {
  const out = new Uint8Array(1);
  return values.map((value) => {
    const y = Uint8Array.of(value);
    reference.difference(y, null, out);
    reference.advance(y, 1);
    return out[0]!;
  });
}

describe('previous frame', () => {
  it('compares with the frame before', () => {
    const reference = createReference({ kind: 'previous', lag: 1 }, 1);
    expect(differences(reference, [10, 13, 9, 9, 255])).toEqual([0, 3, 4, 0, 246]);
  });

  it('compares with the first frame while there is none old enough', () => {
    const reference = createReference({ kind: 'previous', lag: 3 }, 1);
    expect(differences(reference, [10, 11, 12, 13, 14, 30])).toEqual([0, 1, 2, 3, 3, 18]);
  });

  it.each([0, 1, 2, 3])('tells any two grey levels apart, begun %d bytes into a word', (begin) => {
    const pairs = 256 * 256;
    const frame = () => new Uint8Array(begin + pairs).subarray(begin);
    const [before, after, out] = [frame(), frame(), frame()];
    for (const place of [0, 1, 2, 3]) {
      // Every pair, each time in another byte of its word.
      for (let i = 0; i < pairs; i++) {
        before[(i + place) % pairs] = i >> 8;
        after[(i + place) % pairs] = i & 255;
      }
      const reference = createReference({ kind: 'previous', lag: 1 }, pairs);
      reference.advance(before, 0);
      reference.difference(after, null, out);
      expect(out.findIndex((value, i) => value !== Math.abs(after[i]! - before[i]!))).toBe(-1);
    }
  });
});

describe('running average', () => {
  it('moves half way in each second at that rate', () => {
    // Means before each frame: 0, 0, 50, 75, 37.5.
    expect(differences(createReference(HALVING, 1), [0, 100, 100, 0, 37])).toEqual([0, 100, 50, 75, 1]);
  });

  it('rounds an exact half up, whichever is the brighter', () => {
    const half = () => {
      const reference = createReference(HALVING, 1);
      reference.advance(Uint8Array.of(0), 0);
      reference.advance(Uint8Array.of(1), 1);
      return reference;
    };
    expect(differences(half(), [1])).toEqual([1]);
    expect(differences(half(), [0])).toEqual([1]);
  });

  it('goes by time, not by frames', () => {
    const [once, twice] = [createReference(HALVING, 1), createReference(HALVING, 1)];
    once.advance(Uint8Array.of(0), 0);
    twice.advance(Uint8Array.of(0), 0);
    once.advance(Uint8Array.of(160), 2);
    twice.advance(Uint8Array.of(160), 1);
    twice.advance(Uint8Array.of(160), 1);
    expect(differences(once, [0])).toEqual([120]);
    expect(differences(twice, [0])).toEqual([120]);
  });
});

const MODELS: ReferenceModel[] = [{ kind: 'previous', lag: 2 }, HALVING];

describe.each(MODELS)('$kind', (model) => {
  it('finds no difference before a frame was taken in', () => {
    const out = Uint8Array.of(7);
    createReference(model, 1).difference(Uint8Array.of(99), null, out);
    expect(out[0]).toBe(0);
  });

  it('finds none after a restart either', () => {
    const reference = createReference(model, 1);
    expect(differences(reference, [10, 200])).toEqual([0, 190]);
    reference.restart();
    expect(differences(reference, [90, 95])).toEqual([0, 5]);
  });

  it('finds none where masked', () => {
    const reference = createReference(model, 4);
    const out = new Uint8Array(4);
    reference.advance(new Uint8Array(4), 0);
    reference.difference(Uint8Array.of(1, 2, 3, 4), Uint8Array.of(0, 1, 1, 0), out);
    expect([...out]).toEqual([1, 0, 0, 4]);
  });

  it.each([0, 1, 2, 5])('goes on exactly from what it saved after %i frames', (seen) => {
    const values = [...randomBytes(12, 'save')];
    const [whole, first, second] = [0, 0, 0].map(() => createReference(model, 1));
    const expected = differences(whole!, values);
    differences(first!, values.slice(0, seen));
    differences(second!, [1, 2, 3]);
    second!.load(first!.save());
    expect(differences(second!, values.slice(seen))).toEqual(expected.slice(seen));
  });

  it('refuses a state of another size', () => {
    const state = new Uint8Array(13);
    expect(() => createReference(model, 2).load(state)).toThrow(RangeError);
  });
});

/** By how much the first of some frames, black or white, moves what a model compares with after `between` more. */
function recalled(model: ReferenceModel, between: number, spacing: number): number {
  const values = [...randomBytes(between, 'memory')];
  const [black, white] = [0, 255].map((first) => {
    const reference = createReference(model, 1);
    for (const value of [first, ...values]) reference.advance(Uint8Array.of(value), spacing);
    return reference.image()![0]!;
  });
  return white! - black!;
}

describe.each(MODELS)('what is said of the memory of $kind', (model) => {
  const { frames, timed } = memoryOf(model);

  it('holds for how many frames back have a part in it', () => {
    if (Number.isFinite(frames)) expect(recalled(model, frames, 1)).toBe(0);
    expect(recalled(model, Math.min(frames, 20) - 1, 0.1)).toBeGreaterThan(0);
  });

  it('holds for whether times matter', () => {
    expect(recalled(model, 1, 0.1) !== recalled(model, 1, 1)).toBe(timed);
  });
});

it('an average is said to fade as fast as it does', () => {
  const { seconds } = memoryOf(HALVING);
  expect(recalled(HALVING, 1, seconds)).toBeCloseTo(255 / Math.E, 4);
});

describe.each(MODELS)('the image of $kind', (model) => {
  it('is what the next frame is compared with, and a copy', () => {
    const reference = createReference(model, 2);
    const out = new Uint8Array(2);
    expect(reference.image()).toBeNull();
    reference.advance(Uint8Array.of(10, 40), 0);
    reference.advance(Uint8Array.of(30, 20), 1);
    const image = reference.image()!;
    reference.difference(Uint8Array.of(200, 200), null, out);
    expect([...out]).toEqual([...image].map((grey) => Math.round(200 - grey)));
    image.fill(0);
    expect([...reference.image()!]).not.toEqual([0, 0]);
    reference.restart();
    expect(reference.image()).toBeNull();
  });
});

it('refuses a kind that it does not know, by name', () => {
  const model = { kind: 'median', frames: 5 } as unknown as ReferenceModel;
  for (const asked of [() => createReference(model, 1), () => memoryOf(model)]) {
    expect(asked).toThrow(new RangeError("There is no reference of the kind 'median'."));
  }
});

it('refuses the state of a longer lag', () => {
  const state = new Uint8Array(6);
  expect(() => createReference({ kind: 'previous', lag: 2 }, 2).load(state)).toThrow(/at most 2 frames/);
});
