import seedrandom from 'seedrandom';

/** A sensor that draws a still place with things moving in it; its noise is that of EMVA 1288's linear model. */
export interface Drawing {
  width: number;
  height: number;
  /** Digital numbers per electron, of 255 in linear light; electrons. */
  gain: number;
  readNoise: number;
  seed: string;
  /** Brightest light, 1 is white. */
  brightest?: number;
  /** Whether it is a wall of one brightness. */
  plain?: boolean;
  /** Whether leaves shake in a corner, and something crosses the picture. */
  moving?: boolean;
  /** Red, green and blue, each with a noise of its own. */
  colour?: boolean;
  /** By how much of itself nearly everything brightens and darkens, slowly, each at its own time. */
  sway?: number;
  /** By how much of itself each frame is brighter or darker than the place is. */
  flicker?: number;
}

/** Frames, rows from the top, bytes; channels interleaved where in colour. */
export function drawStillLife(drawing: Drawing, count: number): Uint8Array[] {
  const { width, height, gain, readNoise, seed, brightest = 0.9, moving = false, colour = false } = drawing;
  const { flicker = 0, sway = 0 } = drawing;
  const random = seedrandom(seed);
  // Marsaglia's polar method.
  let spare: number | null = null;
  const gauss = () => {
    if (spare !== null) {
      const one = spare;
      spare = null;
      return one;
    }
    for (;;) {
      const [u, v] = [2 * random.quick() - 1, 2 * random.quick() - 1];
      const s = u * u + v * v;
      if (s === 0 || s >= 1) continue;
      const by = Math.sqrt((-2 * Math.log(s)) / s);
      spare = v * by;
      return u * by;
    }
  };
  const ground = Float64Array.from({ length: width * height }, (_, i) => {
    const [u, v] = [(i % width) / width, Math.floor(i / width) / height];
    if (drawing.plain) return brightest;
    const slabs = (Math.floor(u * 7) + Math.floor(v * 5)) % 2;
    return brightest * Math.max(0.005, 0.05 + 0.6 * u * v + 0.1 * Math.sin(8 * u + 3 * v) + 0.12 * slabs);
  });
  return Array.from({ length: count }, (_, k) => {
    const bright = 1 + flicker * Math.sin(2.4 * k);
    const out = new Uint8Array(width * height * (colour ? 3 : 1));
    const [cx, cy, r] = [(k * width) / 23, height * 0.6, height / 7];
    let at = 0;
    for (let i = 0; i < ground.length; i++) {
      const [x, y] = [i % width, Math.floor(i / width)];
      let light = ground[i]!;
      if (x < 0.93 * width) light *= 1 + sway * Math.sin(0.5 * k + x * 0.03 + y * 0.05);
      if (moving && x < width / 4 && y < height / 2) light *= 1 + 0.6 * Math.sin(1.9 * k + x * 0.9 + y * 0.4);
      if (moving && ((x - cx) % width) ** 2 + (y - cy) ** 2 < r * r) light = 0.4 * brightest;
      for (let c = 0; c < (colour ? 3 : 1); c++) {
        const mean = 255 * light * bright;
        const noisy = mean + Math.sqrt((gain * readNoise) ** 2 + gain * mean) * gauss();
        const share = Math.min(1, Math.max(0, noisy / 255));
        // sRGB, IEC 61966-2-1.
        const signal = share <= 0.0031308 ? 12.92 * share : 1.055 * share ** (1 / 2.4) - 0.055;
        out[at++] = Math.round(255 * signal);
      }
    }
    return out;
  });
}
