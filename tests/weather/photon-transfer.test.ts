import { describe, expect, it } from 'vitest';
import { varianceLeft } from '../../src/weather/averaging.js';
import { fitLine } from '../../src/weather/sensor/noise-line.js';
import { type PhotonTransfer, StillPlaces, type Stored } from '../../src/weather/sensor/photon-transfer.js';
import { roundedVariance, unroundedVariance } from '../../src/weather/sensor/quantised.js';
import { elementsOf, lightVariance } from '../../src/weather/sensor/sensor.js';
import { type Drawing, drawStillLife } from './still-life.js';

const lossless: Stored = { rounding: 0, left: 1, as: null, step: null };
const size = { width: 240, height: 160 };
const large = { width: 320, height: 240, seed: 'build-large' };
const plain: Drawing = { ...size, gain: 0.1, readNoise: 8, seed: 'build-still' };
/** Frames that follow one another, as a sample of a clip has them. */
const RUN = 8;

function measured(
  frames: readonly Uint8Array[],
  stored = lossless,
  { width, height } = size,
): PhotonTransfer {
  const places = new StillPlaces(width, height);
  frames.forEach((y, k) => {
    if (k % RUN === 0) places.restart();
    places.see(y);
  });
  return places.measure(stored);
}

/** Gain and read noise by the transfer; the variance in linear light is gain * (gain * read^2 + light) of 255. */
function figuresOf(transfer: PhotonTransfer): { gain: number; readNoise: number } {
  if (transfer.kind !== 'measured') throw new Error(transfer.why);
  const gain = 255 * transfer.line.slope;
  return { gain, readNoise: (255 * Math.sqrt(transfer.line.floor)) / gain };
}

const why = (transfer: PhotonTransfer) => (transfer.kind === 'measured' ? 'measured' : transfer.why);

describe('the photon transfer of a drawn clip (EMVA 1288 R3.1, from memory)', () => {
  it.each([
    [0.02, 2],
    [0.06, 8],
    [0.1, 3],
    [0.25, 12],
    [0.5, 4],
    [0.5, 8],
    [1, 3],
  ])(
    'gives a gain of %f back within a tenth, with %d electrons of read noise and things moving',
    (gain, readNoise) => {
      const frames = drawStillLife({ ...plain, gain, readNoise, moving: true }, 4 * RUN);
      const found = figuresOf(measured(frames));
      expect(found.gain / gain).toBeGreaterThan(0.9);
      expect(found.gain / gain).toBeLessThan(1.1);
      // Where read noise is a part of what there is to be seen.
      if (gain * readNoise > 0.4) expect(Math.abs(found.readNoise / readNoise - 1)).toBeLessThan(0.25);
    },
  );

  it('is not deceived by light that flickers', () => {
    const frames = drawStillLife({ ...plain, flicker: 0.03 }, 3 * RUN);
    expect(Math.abs(figuresOf(measured(frames)).gain / plain.gain - 1)).toBeLessThan(0.1);
  });

  it('leaves out what black or white cut', () => {
    const frames = drawStillLife({ ...plain, brightest: 1.6, gain: 0.4 }, 3 * RUN);
    expect(Math.abs(figuresOf(measured(frames)).gain / 0.4 - 1)).toBeLessThan(0.1);
  });
});

describe('noise that neighbours share', () => {
  // At 320 x 240 every other square is looked at: none that lay at the edge of a block of compression was, so that whatever neighbours
  // shared was put down to blocks of 8, in lossless stills too.
  const count = 3 * RUN;
  const own = drawStillLife({ ...large, gain: 0.1, readNoise: 8 }, count);
  const seen = (frames: readonly Uint8Array[]) => {
    const places = new StillPlaces(large.width, large.height, 8);
    for (const [k, y] of frames.entries()) {
      if (k % RUN === 0) places.restart();
      places.see(y);
    }
    return places.measure(lossless);
  };
  const shared = (isBlocky: boolean) =>
    own.map((y) =>
      y.map((value, i) =>
        isBlocky && i % 8 === 7 ? value : Math.round((2 * value + (y[i + 1] ?? value)) / 3),
      ),
    );

  it('everywhere is not called compressed', () => {
    expect(why(seen(shared(false)))).toBe('measured');
  });

  it('but for those of two blocks is', () => {
    expect(why(seen(shared(true)))).toMatch(/edges of squares of 8 pixels/);
  });
});

describe('runs of few frames', () => {
  it.each([3, 4, 8])('of %d give the gain back without leaning, within what they claim', (count) => {
    const ratios = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'].map((seed) => {
      const drawing = { ...large, gain: 0.1, readNoise: 4, seed: `build-${seed}` };
      const transfer = measured(drawStillLife(drawing, count), lossless, large);
      if (transfer.kind !== 'measured') throw new Error(transfer.why);
      return { ratio: (255 * transfer.line.slope) / 0.1, error: transfer.line.slopeError };
    });
    const mean = ratios.reduce((sum, { ratio }) => sum + ratio, 0) / ratios.length;
    const claimed = Math.sqrt(ratios.reduce((sum, { error }) => sum + error ** 2, 0)) / ratios.length;
    // Three standard errors of the mean of the eight.
    expect(Math.abs(mean - 1)).toBeLessThan(3 * claimed + 0.01);
  });
});

describe('the interval told', () => {
  it.each([
    [0.006, 4],
    [0.01, 4],
    [0.02, 3],
    [0.1, 3],
    [0.2, 3],
    [0.06, 8],
    [0.4, 2],
  ])('of a gain of %f holds what was drawn, with %d electrons of read noise', (gain, readNoise) => {
    for (const seed of ['a', 'b', 'c']) {
      const drawing = { ...large, gain, readNoise, seed: `build-range-${seed}${gain}` };
      const transfer = measured(drawStillLife(drawing, 3 * RUN), lossless, large);
      if (transfer.kind !== 'measured') throw new Error(transfer.why);
      const { slope, floor } = transfer.range;
      for (const [drawn, [low, high]] of [
        [gain / 255, slope],
        [((gain * readNoise) / 255) ** 2, floor],
      ] as const) {
        expect(low).toBeLessThanOrEqual(drawn);
        expect(high).toBeGreaterThanOrEqual(drawn);
      }
    }
  });

  it('is wider where compression is near', () => {
    const frames = drawStillLife({ ...large, gain: 0.4, readNoise: 3 }, 3 * RUN);
    const width = (stored: Stored) => {
      const transfer = measured(frames, stored, large);
      if (transfer.kind !== 'measured') throw new Error(transfer.why);
      return (transfer.range.slope[1] - transfer.range.slope[0]) / 2 / transfer.line.slope;
    };
    expect(width({ ...lossless, as: 'as JPEG', step: 1 })).toBeGreaterThan(0.25);
    expect(width(lossless)).toBeLessThan(0.05);
  });
});

describe('what cannot be measured is called so, in a word', () => {
  const flat = (level: number, count = RUN) =>
    Array.from({ length: count }, () => new Uint8Array(size.width * size.height).fill(level));

  it('one frame', () => {
    expect(why(measured(drawStillLife(plain, 1)))).toBe('it has one frame');
  });

  it('two frames', () => {
    expect(why(measured(drawStillLife(plain, 2)))).toBe('it has 2 frames');
  });

  it.each([0, 128, 255])('frames all alike at %d', (level) => {
    expect(measured(flat(level))).toMatchObject({
      noiseless: true,
      why: expect.stringMatching(/alike to the last/),
    });
  });

  it.each([
    ['white', 40],
    ['black', 1e-4],
  ])('nearly all %s', (_, brightest) => {
    const frames = drawStillLife({ ...plain, brightest, gain: 0.02, readNoise: 1 }, 2 * RUN);
    expect(why(measured(frames))).toMatch(/black or white nearly everywhere/);
  });

  it('a wall of one brightness', () => {
    const wall = { ...plain, gain: 0.3, brightest: 0.3, plain: true };
    const frames = drawStillLife(wall, 2 * RUN);
    expect(why(measured(frames))).toMatch(/all about as bright \(grey levels 1\d\d to 1\d\d\)/);
  });

  it('a codec that leaves squares as they were', () => {
    const frames = drawStillLife({ ...plain, gain: 0.2 }, 2 * RUN);
    const skipped = frames.map((y, k) => {
      const last = frames[k - (k % RUN)]!;
      return y.map((value, i) => {
        const [x, row] = [i % size.width, Math.floor(i / size.width)];
        return (Math.floor(x / 16) + Math.floor(row / 16)) % 2 ? last[i]! : value;
      });
    });
    expect(measured(skipped)).toMatchObject({
      noiseless: true,
      why: expect.stringMatching(/50 % .*exactly alike/),
    });
  });

  it('noise that is carried from frame to frame', () => {
    const frames = drawStillLife({ ...plain, gain: 0.4 }, 3 * RUN);
    let before = Float64Array.from(frames[0]!);
    const smooth = frames.map((y) => {
      before = before.map((value, i) => 0.7 * value + 0.3 * y[i]!);
      return Uint8Array.from(before, Math.round);
    });
    expect(measured(smooth)).toMatchObject({
      noiseless: true,
      why: expect.stringMatching(/smoothed from frame to frame/),
    });
  });

  it.each([0.08, 0.12, 0.2])(
    'white noise is not called smoothed where nearly all sways slowly by %f',
    (sway) => {
      const transfer = measured(
        drawStillLife({ ...large, gain: 0.1, readNoise: 3, sway }, 8 * RUN),
        lossless,
        large,
      );
      expect(why(transfer)).not.toMatch(/smoothed/);
      if (transfer.kind === 'not measurable') expect(transfer.noiseless).toBe(false);
    },
  );

  it('everything moving', () => {
    const frames = drawStillLife({ ...plain, gain: 0.02, readNoise: 1 }, 2 * RUN).map((y, k) =>
      y.map((_, i) => 40 + ((i * 7919 + k * 104_729 * (1 + (i % 13))) % 170)),
    );
    expect(measured(frames).kind).toBe('not measurable');
  });

  it('steps of compression that the noise does not outweigh', () => {
    const frames = drawStillLife({ ...plain, gain: 0.05 }, 2 * RUN);
    const transfer = measured(frames, { ...lossless, as: 'as JPEG', step: 6 });
    expect(why(transfer)).toMatch(/steps of about 6\.0 grey levels.*as JPEG/);
  });
});

describe('rounding', () => {
  it.each([0.02, 0.07, 0.15, 0.3, 0.6, 2])(
    'of noise of %f steps is that of a sum over all places of its mean',
    (sigma) => {
      // By the distribution itself: the probabilities of each whole number, for a thousand means between two of them.
      let total = 0;
      for (let m = 0; m < 1000; m++) {
        const mean = (m + 0.5) / 1000;
        let [sum, squares] = [0, 0];
        for (let n = -15; n <= 16; n++) {
          const p = below((n + 0.5 - mean) / sigma) - below((n - 0.5 - mean) / sigma);
          sum += p * n;
          squares += p * n * n;
        }
        total += (squares - sum * sum) / 1000;
      }
      expect(roundedVariance(sigma) / total).toBeCloseTo(1, 2);
      expect(Math.sqrt(unroundedVariance(total)) / sigma).toBeCloseTo(1, 1);
    },
  );

  it('adds a twelfth to noise wider than a step (EMVA 1288)', () => {
    expect(roundedVariance(1.5)).toBeCloseTo(2.25 + 1 / 12, 6);
  });
});

/** Normal distribution function (Abramowitz & Stegun 1964, 7.1.26: within 1.5e-7). */
function below(z: number): number {
  const t = 1 / (1 + (0.3275911 * Math.abs(z)) / Math.SQRT2);
  const tail =
    t *
    (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429)))) *
    Math.exp((-z * z) / 2);
  return z > 0 ? 1 - tail / 2 : tail / 2;
}

describe('variance left by averaging', () => {
  it.each([
    [640, 480, 320, 240, 1 / 4],
    [960, 960, 320, 320, 1 / 9],
    [320, 240, 320, 240, 1],
    [320, 240, 640, 480, 1],
    // Three pixels on two: each takes one whole and half of one: (1 + 1/4) / (3/2)^2 along an axis.
    [3, 2, 2, 2, 5 / 9],
  ])('of %dx%d on %dx%d', (width, height, toWidth, toHeight, left) => {
    expect(varianceLeft({ width, height }, { width: toWidth, height: toHeight })).toBeCloseTo(left, 10);
  });
});

describe('the line', () => {
  it('goes through points that lie on one, whatever one of them does', () => {
    const points = [0.02, 0.05, 0.1, 0.2, 0.3, 0.5, 0.7].map((light, i) => ({
      level: 255 * light,
      light,
      variance: (1e-5 + 2e-4 * light) * (i === 2 ? 4 : 1),
      error: 0.02,
    }));
    const line = fitLine(points);
    expect(line.slope / 2e-4).toBeGreaterThan(0.95);
    expect(line.slope / 2e-4).toBeLessThan(1.05);
    expect(line.misfit).toBeLessThan(0.05);
  });

  it('of a sensor gives its full well and read noise back', () => {
    const optics = { longest: 1, mostGain: 8, fullWell: 5200, readNoise: 6 };
    const at = (light: number) => lightVariance(light, 3, optics, 320);
    const line = { floor: at(0), slope: at(1) - at(0) };
    const found = elementsOf(line, 3, 320);
    expect(found.fullWell).toBeCloseTo(5200, 6);
    expect(found.readNoise).toBeCloseTo(6, 6);
  });
});
