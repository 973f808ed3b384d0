import { between, chance, normal, pick, type Random, random, seedOf } from '../../base/random.js';
import type { CauseName } from '../../diagnose/diagnosis.js';
import { type Shake, shakenBy } from '../../scene/shakes.js';
import { drops, type Event, insect, shadow, something } from './events.js';
import { ground } from './ground.js';
import { type Sway, sway } from './sway.js';

/** A moving picture of nothing in particular, of which each cause can be left out. */
export interface TextureScene {
  /** What happens in it. */
  causes: readonly CauseName[];
  /** A frame as luminance, as it is or as it would be without one cause; the same for the same arguments. */
  draw(frame: number, without?: CauseName): Uint8Array;
}

export interface TextureOptions {
  width: number;
  height: number;
  rate: number;
  frames: number;
  causes: readonly CauseName[];
}

/** Everything random follows from the seed. */
export function textureScene(
  { width, height, rate, frames, causes }: TextureOptions,
  seed: string,
): TextureScene {
  const r = random(seed, 'textures');
  const base = ground(width, height, r);
  const has = (cause: CauseName) => causes.includes(cause);
  const blown = has('wind') ? sway(width, height, rate, frames, 2 ** between(r, -0.6, 1.6), r) : null;
  const level = has('light') ? clouds(rate, frames, r) : new Float32Array(frames).fill(1);
  const shakes = has('shake') ? knocks(rate, frames, width, r) : [];
  const sigma = has('noise') ? between(r, 4, 13) : between(r, 0.3, 1.8);
  const events: { cause: CauseName; event: Event }[] = [];
  const add = (cause: CauseName, everySeconds: number, make: (from: number) => Event) => {
    if (!has(cause)) return;
    for (let t = r() * everySeconds; t < frames / rate; t += everySeconds * (0.4 + 1.2 * r())) {
      events.push({ cause, event: make(Math.floor(t * rate)) });
    }
  };
  add('shadow', 9, (from) => shadow(from, rate, width, height, r));
  add('unknown', 11, (from) => something(from, rate, width, height, r));
  if (has('rain')) {
    const density = 2 ** between(r, 1, 6.5);
    const slant = between(r, -0.3, 0.3);
    for (let k = 0; k < frames; k++) {
      const event = drops(k, density * between(r, 0.5, 1.5), width, height, slant, r);
      events.push({ cause: 'rain', event });
    }
  }
  add('insect', 5, (from) => insect(from, width, height, r));
  const struck = has('rain') ? leaves(rate, frames, width, height, r) : null;
  const noise = deviates(r);
  const noiseSeed = seedOf(seed, 'noise');
  const [dx, dy] = [new Float32Array(width * height), new Float32Array(width * height)];

  return {
    causes,
    draw(frame, without) {
      dx.fill(0);
      dy.fill(0);
      if (blown && without !== 'wind') blown.at(frame, dx, dy);
      if (struck && without !== 'rain') struck(frame, dx, dy);
      if (without !== 'shake' && shakes.length > 0) {
        const off = shakenBy(shakes, frame / rate);
        for (let i = 0; i < dx.length; i++) {
          dx[i]! += off.x;
          dy[i]! += off.y;
        }
      }
      const grey = warped(base.grey, width, height, dx, dy);
      for (const { cause, event } of events) {
        if (cause !== without && frame >= event.from && frame <= event.to)
          event.draw(grey, width, height, frame);
      }
      const light = without === 'light' ? 1 : level[frame]!;
      const grain = without === 'noise' ? 0.3 : sigma;
      const start = Math.floor(chance(noiseSeed, frame, 1) * noise.length);
      return Uint8Array.from(grey, (v, i) => {
        const n = noise[(start + i * 7 + Math.floor(i / width) * 13) % noise.length]!;
        return Math.min(255, Math.max(0, Math.round(v * light + grain * n)));
      });
    },
  };
}

/** A picture of which each pixel comes from dx, dy further left and up; bilinear, the edge repeated. */
function warped(
  grey: Float32Array,
  width: number,
  height: number,
  dx: Float32Array,
  dy: Float32Array,
): Float32Array {
  const out = new Float32Array(grey.length);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      const fx = Math.min(width - 1.001, Math.max(0, x - dx[i]!));
      const fy = Math.min(height - 1.001, Math.max(0, y - dy[i]!));
      const [left, top] = [Math.floor(fx), Math.floor(fy)];
      const [u, v] = [fx - left, fy - top];
      const at = top * width + left;
      const above = grey[at]! * (1 - u) + grey[at + 1]! * u;
      const below = grey[at + width]! * (1 - u) + grey[at + width + 1]! * u;
      out[i] = above * (1 - v) + below * v;
    }
  }
  return out;
}

/** What clouds and exposure steps multiply the light by, frame by frame. */
function clouds(rate: number, frames: number, r: Random): Float32Array {
  const level = new Float32Array(frames).fill(1);
  let now = 1;
  for (let k = Math.floor(r() * 4 * rate); k < frames; ) {
    const to = Math.min(1.5, Math.max(0.45, now * 2 ** between(r, -0.9, 0.9)));
    const ramp = r() < 0.45 ? 1 : Math.max(1, Math.round(between(r, 0.5, 6) * rate));
    for (let j = 0; j < ramp && k + j < frames; j++) level[k + j] = now + ((to - now) * (j + 1)) / ramp;
    level.fill(to, Math.min(frames, k + ramp));
    now = to;
    k += ramp + Math.round(between(r, 1.5, 8) * rate);
  }
  return level;
}

function knocks(rate: number, frames: number, width: number, r: Random): Shake[] {
  const out: Shake[] = [];
  const lasting = r() < 0.3;
  for (let start = r() * 6; start < frames / rate; start += between(r, 4, 14)) {
    const far = (2 ** between(r, -0.8, 2.8) * width) / 320;
    const turn = between(r, 0, 2 * Math.PI);
    const keep = lasting ? between(r, 0.6, 0.9) : between(r, 0.05, 0.6);
    const end = start + Math.log(0.05 / far) / Math.log(keep);
    out.push({
      start,
      end,
      x: far * Math.cos(turn),
      y: far * Math.sin(turn),
      hertz: between(r, 0.4, 5),
      keep,
    });
  }
  return out;
}

/** Leaves that drops strike, which dip and swing out. */
function leaves(rate: number, frames: number, width: number, height: number, r: Random): Sway['at'] {
  const density = pick(r, [0, 0.5, 2, 6]);
  const struck = Array.from({ length: Math.round((density * frames) / rate) }, () => ({
    x: r() * width,
    y: r() * height,
    size: between(r, 5, 20),
    start: (r() * frames) / rate,
    far: between(r, 1, 5),
    hertz: between(r, 2, 6),
    keep: between(r, 0.02, 0.2),
  }));
  return (frame, _, dy) => {
    const t = frame / rate;
    for (const { x, y, size, start, far, hertz, keep } of struck) {
      if (t < start || t > start + 2) continue;
      const dip = far * keep ** (t - start) * Math.cos(2 * Math.PI * hertz * (t - start));
      for (let py = Math.max(0, Math.floor(y - size)); py < Math.min(height, y + size); py++) {
        for (let px = Math.max(0, Math.floor(x - size)); px < Math.min(width, x + size); px++) {
          const near = 1 - Math.hypot(px - x, py - y) / size;
          if (near > 0) dy[py * width + px]! += near * dip;
        }
      }
    }
  };
}

function deviates(r: Random): Float32Array {
  return Float32Array.from({ length: 16_381 }, () => normal(r));
}
