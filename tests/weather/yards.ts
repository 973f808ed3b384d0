import seedrandom from 'seedrandom';
import { normal } from '../../src/base/random.js';

export const width = 320;
export const height = 240;

/** Signal of each place, 0..255; moving parts are drawn for a time. */
type Draw = (picture: Float32Array, time: number) => void;

/** A yard seen by a camera: frames in runs of eight at five a second, with sensor noise that grows with the signal. */
export function filmed(parts: readonly Draw[], seed: string, runs = 8): Uint8Array[][] {
  const random = seedrandom(`${seed} sensor`);
  const picture = new Float32Array(width * height);
  return Array.from({ length: runs }, (_, run) =>
    Array.from({ length: 8 }, (_, k) => {
      picture.fill(110);
      for (const part of parts) part(picture, 20 * run + k / 5);
      return Uint8Array.from(picture, (v) =>
        Math.min(255, Math.max(0, Math.round(v + Math.sqrt(1 + v / 40) * normal(random)))),
      );
    }),
  );
}

/** Grains of stone of a size in pixels: asphalt (1) or gravel (3). */
export function ground(seed: string, size: number, spread: number): Draw {
  const random = seedrandom(seed);
  const across = Math.ceil(width / size) + 2;
  const grain = Float32Array.from({ length: across * (Math.ceil(height / size) + 2) }, () => normal(random));
  const still = Float32Array.from({ length: width * height }, (_, i) => {
    const [x, y] = [(i % width) / size, Math.floor(i / width) / size];
    const g = grain[Math.floor(y) * across + Math.floor(x + (Math.floor(y) % 2) / 2)]!;
    return 105 + spread * g;
  });
  return (picture) => picture.set(still);
}

/** Painted lines of a car park: across the view, slanting. */
export function lines(from = 0.1, to = 0.9, count = 5, wide = 5): Draw {
  return (picture) => {
    for (let n = 0; n < count; n++) {
      for (let y = 0.15 * height; y < height; y++) {
        const x = width * (from + ((to - from) * n) / Math.max(1, count - 1)) + 0.25 * (y - height / 2);
        const row = Math.floor(y) * width;
        for (let i = Math.max(0, Math.floor(x)); i < Math.min(width, x + wide); i++) picture[row + i] = 225;
      }
    }
  };
}

/** Bricks with pale joints, each of a shade of its own. */
export function bricks(seed: string): Draw {
  const random = seedrandom(seed);
  const shades = Float32Array.from({ length: 40 * 40 }, () => 70 + 40 * random());
  return (picture) => {
    for (let i = 0; i < picture.length; i++) {
      const row = Math.floor(Math.floor(i / width) / 10);
      const x = (i % width) + (row % 2) * 11;
      const joint = x % 22 < 2 || Math.floor(i / width) % 10 < 2;
      picture[i] = joint ? 165 : shades[(row % 40) * 40 + Math.floor(x / 22)]!;
    }
  };
}

/** Upright planks with grain along them and dark gaps. */
export function fence(seed: string): Draw {
  const random = seedrandom(seed);
  const grain = Float32Array.from({ length: width }, (_, x) => (x % 16 < 2 ? 30 : 120 + 25 * random()));
  return (picture) => {
    for (let i = 0; i < picture.length; i++) picture[i] = grain[i % width]!;
  };
}

/** Leaves of a hedge in a box (pixels), each swinging about its stalk's place: reach in pixels, hertz. */
export function hedge(
  seed: string,
  [left, top, right, bottom]: readonly [number, number, number, number],
  reach: number,
  hertz = 1.3,
): Draw {
  const random = seedrandom(seed);
  const leaves = Array.from({ length: Math.round(((right - left) * (bottom - top)) / 14) }, () => ({
    x: left + 4 + (right - left - 8) * random(),
    y: top + 4 + (bottom - top - 8) * random(),
    long: 3 + 3 * random(),
    turn: Math.PI * random(),
    shade: 45 + 120 * random(),
    phase: 2 * Math.PI * random(),
    quick: hertz * (0.8 + 0.4 * random()),
  }));
  return (picture, time) => {
    for (let y = top; y < bottom; y++) picture.fill(50, y * width + left, y * width + right);
    for (const { x, y, long, turn, shade, phase, quick } of leaves) {
      const at = x + reach * Math.sin(2 * Math.PI * quick * time + phase + x / 25);
      const [c, s] = [Math.cos(turn), Math.sin(turn)];
      for (let v = Math.ceil(y - long); v <= y + long; v++) {
        if (v < top || v >= bottom) continue;
        for (let u = Math.floor(at - long); u <= at + long + 1; u++) {
          if (u < left || u >= right) continue;
          const [p, q] = [(u - at) * c + (v - y) * s, (v - y) * c - (u - at) * s];
          // Edges fade over a pixel, so that parts of a pixel's way show.
          const inside = 1 - Math.max(0, Math.hypot(p / long, (2 * q) / long) - 1) * (long / 2);
          if (inside <= 0) continue;
          const i = v * width + u;
          picture[i] = picture[i]! + (shade - picture[i]!) * Math.min(1, inside);
        }
      }
    }
  };
}

/** Something that passes through each run once, at a place of its own: a dog, a car. */
export function passer(seed: string): Draw {
  const random = seedrandom(seed);
  const way = Array.from({ length: 40 }, () => [random(), random()] as const);
  return (picture, time) => {
    const [row, from] = way[Math.floor(time / 20) % 40]!;
    const x = Math.floor(width * from + 25 * (time % 20));
    const y = Math.floor(row * (height - 30));
    for (let v = y; v < y + 24; v++) {
      for (let u = x; u < x + 14; u++) if (u < width) picture[v * width + u] = 30 + ((u * 7 + v * 3) % 60);
    }
  };
}
