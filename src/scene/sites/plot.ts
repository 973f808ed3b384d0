import { between, pick, type Random } from '../../base/random.js';
import { blend, type Colour, scaled, screen } from '../colour.js';
import { groundDistance, type Lens, pictureX, pictureY } from '../lens.js';
import { blade, type Canvas, leaf } from '../paint.js';
import { roughNoise, smoothNoise } from '../texture.js';

/** The still picture of a site while it is built up from far to near. */
export interface Plot {
  canvas: Canvas;
  lens: Lens;
  /** Metres to whatever stands at each pixel; Infinity where nothing hides what comes behind. */
  depth: Float32Array;
  r: Random;
  seed: number;
  /** 1 at a picture 320 pixels wide. */
  scale: number;
}

export function set(p: Plot, x: number, y: number, c: Colour, k = 1): void {
  const i = (y * p.canvas.width + x) * 3;
  p.canvas.rgb[i] = c[0] * k;
  p.canvas.rgb[i + 1] = c[1] * k;
  p.canvas.rgb[i + 2] = c[2] * k;
}

/** Lays `colour` over a pixel by `q` and has it stand there, `z` metres away. */
export function stand(p: Plot, x: number, y: number, c: Colour, k: number, q: number, z: number): void {
  const n = y * p.canvas.width + x;
  const d = p.canvas.rgb;
  for (let j = 0; j < 3; j++) d[n * 3 + j] = d[n * 3 + j]! + (c[j]! * k - d[n * 3 + j]!) * q;
  if (q > 0.5) p.depth[n] = z;
}

/** Sky over a strip of mud and water, with the far bank. */
export function paintSky(p: Plot, overcast: number): void {
  const { width, height } = p.canvas;
  const high = blend(screen(0x9db9dc), screen(0xb9bfc4), overcast);
  const low = blend(screen(0xd5dde0), screen(0xc9ccce), overcast);
  const far = p.lens.horizon;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const t = Math.min(1, Math.max(0, y / Math.max(1, far)));
      const cloud = Math.max(0, roughNoise(x / 90 / p.scale, y / 28 / p.scale, p.seed + 11, 4) - 0.45) * 1.4;
      set(p, x, y, blend(blend(high, low, t), screen(0xe9ebec), Math.min(1, cloud)), 0.85);
      if (y > far - 7 * p.scale && y < far + 3 * p.scale) {
        const bank = far - (4 + 5 * smoothNoise(x / 30 / p.scale, 0, p.seed + 12)) * p.scale;
        if (y > bank) set(p, x, y, screen(0x6d7f86), 0.9);
        if (y > far - p.scale)
          set(p, x, y, screen(0xaeb9bb), 0.8 + 0.2 * smoothNoise(x / 12, y, p.seed + 13));
      }
    }
  }
}

/** Earth with stones and moss, by what grows there. */
export function paintGround(p: Plot, earth: Colour, light: Colour, green: Colour, grassy: number): void {
  const { width, height } = p.canvas;
  for (let y = Math.max(0, Math.ceil(p.lens.horizon + 2)); y < height; y++) {
    const z = groundDistance(p.lens, y);
    for (let x = 0; x < width; x++) {
      const gx = ((x - p.lens.centre) * z) / p.lens.focal;
      const broad = roughNoise(gx * 3, z * 3, p.seed + 1, 3);
      const fine = roughNoise(gx * 38, z * 24, p.seed + 2, 3);
      const grain = smoothNoise(x * 0.9, y * 0.9, p.seed + 3);
      const moss = Math.min(
        1,
        Math.max(0, (roughNoise(gx * 5, z * 5, p.seed + 4, 3) - 0.62 + grassy * 0.5) * 5),
      );
      const soil = blend(earth, light, 0.25 + 0.9 * (broad - 0.4));
      set(p, x, y, blend(soil, green, moss), 0.45 + 0.75 * fine + 0.35 * (grain - 0.5));
    }
  }
}

/** Fallen leaves, clods and chips lying on the ground between two distances. */
export function paintLitter(
  p: Plot,
  count: number,
  near: number,
  far: number,
  colours: readonly Colour[],
): void {
  const places = Array.from({ length: count }, () => between(p.r, near, far)).sort((a, b) => b - a);
  for (const z of places) {
    const x = between(p.r, -0.65, 0.65) * z;
    const c = scaled(pick(p.r, colours), between(p.r, 0.4, 0.85));
    const a = (between(p.r, 0.006, 0.019) * p.lens.focal) / z;
    const px = pictureX(p.lens, x, z);
    const py = pictureY(p.lens, 0, z);
    const turn = between(p.r, -0.6, 0.6);
    leaf(p.canvas, px, py + 0.35 * a, turn, a * 1.1, a * 0.4, c[0] * 0.25, c[1] * 0.25, c[2] * 0.25);
    leaf(p.canvas, px, py, turn, a, a * between(p.r, 0.3, 0.55), ...c);
  }
}

/** A hedge too far behind to be seen moving: leaves over darkness, up to the row `top` gives for each column. */
export function paintHedge(p: Plot, z: number, top: (x: number) => number, colours: readonly Colour[]): void {
  const { width } = p.canvas;
  const foot = Math.min(p.canvas.height - 1, Math.round(pictureY(p.lens, 0, z)));
  for (let x = 0; x < width; x++) {
    const ragged = 6 * p.scale * (roughNoise(x / 9 / p.scale, 1, p.seed + 21, 3) - 0.5);
    for (let y = Math.max(0, Math.round(top(x) + ragged)); y <= foot; y++) {
      const n = roughNoise(x / 16 / p.scale, y / 13 / p.scale, p.seed + 22, 4);
      set(
        p,
        x,
        y,
        colours[0]!,
        (0.12 + 0.7 * n * n) * (1 - 0.6 * Math.max(0, (y - foot) / 40 / p.scale + 1)),
      );
    }
  }
  const leaves = Math.round(9 * width);
  for (let i = 0; i < leaves; i++) {
    const x = p.r() * width;
    const y = between(p.r, Math.max(0, top(x)), foot);
    const glow = roughNoise(x / 22 / p.scale, y / 18 / p.scale, p.seed + 23, 3);
    const c = scaled(
      pick(p.r, colours),
      (0.1 + 1.25 * Math.max(0, glow - 0.25) * between(p.r, 0.5, 1.5)) *
        (1 - 0.55 * Math.max(0, (y - foot) / 40 / p.scale + 1)),
    );
    const a = between(p.r, 1.2, 3.2) * p.scale;
    leaf(p.canvas, x, y, between(p.r, 0, 6.28), a, a * between(p.r, 0.4, 0.65), ...c);
  }
  paintFringe(p, z, colours);
}

/** Short grass along the foot of a hedge, and the dusk beneath it. */
function paintFringe(p: Plot, z: number, colours: readonly Colour[]): void {
  const { width } = p.canvas;
  const foot = pictureY(p.lens, 0, z);
  paintContact(p, width / 2, foot, width, 16 * p.scale, 0.7);
  for (let i = 0; i < 2.6 * width; i++) {
    const deep = p.r();
    const c = scaled(pick(p.r, colours), between(p.r, 0.25, 0.9));
    const tall = between(p.r, 2, 9) * p.scale * (0.6 + 0.6 * deep);
    const x = p.r() * width;
    blade(
      p.canvas,
      x,
      foot + 9 * p.scale * deep,
      tall,
      p.scale,
      between(p.r, -3, 3),
      between(p.r, -2, 2),
      ...c,
    );
  }
}

/** The softness of a small lens over the whole still picture: a blur of about a pixel. */
export function soften(p: Plot): void {
  const { width, height, rgb } = p.canvas;
  const from = rgb.slice();
  const at = (x: number, y: number, j: number) =>
    from[(Math.min(height - 1, Math.max(0, y)) * width + Math.min(width - 1, Math.max(0, x))) * 3 + j]!;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      for (let j = 0; j < 3; j++) {
        const beside = at(x - 1, y, j) + at(x + 1, y, j) + at(x, y - 1, j) + at(x, y + 1, j);
        rgb[(y * width + x) * 3 + j] = 0.52 * at(x, y, j) + 0.12 * beside;
      }
    }
  }
}

/** The darkness that a standing thing lays on the ground at its foot. */
export function paintContact(p: Plot, x: number, y: number, rx: number, ry: number, depth: number): void {
  for (let py = Math.max(0, Math.floor(y - ry)); py < Math.min(p.canvas.height, y + ry); py++) {
    for (let px = Math.max(0, Math.floor(x - rx)); px < Math.min(p.canvas.width, x + rx); px++) {
      const q = 1 - ((px - x) / rx) ** 2 - ((py - y) / ry) ** 2;
      if (q <= 0) continue;
      const i = (py * p.canvas.width + px) * 3;
      for (let j = 0; j < 3; j++)
        p.canvas.rgb[i + j] = p.canvas.rgb[i + j]! * (1 - depth * Math.min(1, q * 1.4));
    }
  }
}
