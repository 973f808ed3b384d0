import { between, type Random } from '../../base/random.js';
import { noiseField } from './ground.js';

/** Something that comes, is drawn over the picture frame by frame, and goes. */
export interface Event {
  from: number;
  to: number;
  draw(grey: Float32Array, width: number, height: number, frame: number): void;
}

/** Puts a soft ellipse over a picture: `shade` says what becomes of a pixel, `soft` how wide its edge is, in pixels. */
function ellipse(
  width: number,
  height: number,
  { x, y, rx, ry, turn, soft }: { x: number; y: number; rx: number; ry: number; turn: number; soft: number },
  shade: (i: number, cover: number, u: number, v: number) => void,
): void {
  const reach = Math.max(rx, ry) * (1 + soft / 2 / Math.min(rx, ry)) + 1;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  for (let py = Math.max(0, Math.floor(y - reach)); py < Math.min(height, y + reach); py++) {
    for (let px = Math.max(0, Math.floor(x - reach)); px < Math.min(width, x + reach); px++) {
      const u = (px - x) * c + (py - y) * s;
      const v = (py - y) * c - (px - x) * s;
      const inside = (1 - Math.hypot(u / rx, v / ry)) * Math.min(rx, ry);
      const cover = Math.min(1, Math.max(0, inside / soft + 0.5));
      if (cover > 0) shade(py * width + px, cover, u, v);
    }
  }
}

/** Out of focus, fast, gone after one to three frames. */
export function insect(from: number, width: number, height: number, r: Random): Event {
  const frames = 1 + Math.floor(r() * 3);
  const size = 2 ** between(r, 1.2, 4.4);
  const speed = between(r, 0.03, 0.25) * width;
  const turn = r() * 2 * Math.PI;
  const [x, y] = [between(r, 0.1, 0.9) * width, between(r, 0.1, 0.9) * height];
  const tone = r() < 0.6 ? between(r, 5, 50) : between(r, 170, 250);
  const strength = between(r, 0.3, 0.95);
  const long = between(r, 1, 3);
  return {
    from,
    to: from + frames - 1,
    draw(grey, w, h, k) {
      const at = { x: x + Math.cos(turn) * speed * (k - from), y: y + Math.sin(turn) * speed * (k - from) };
      const shape = { ...at, rx: size * long, ry: size, turn, soft: size * 0.8 };
      ellipse(w, h, shape, (i, cover) => {
        grey[i]! += strength * cover * (tone - grey[i]!);
      });
    },
  };
}

/** A soft darkening, or a patch of sun, that moves over things and leaves them visible. */
export function shadow(from: number, rate: number, width: number, height: number, r: Random): Event {
  const frames = Math.max(2, Math.round(between(r, 0.8, 6) * rate));
  const keep = r() < 0.8 ? between(r, 0.45, 0.85) : between(r, 1.15, 1.5);
  const shape = {
    rx: between(r, 0.05, 0.35) * width,
    ry: between(r, 0.08, 0.6) * height,
    turn: between(r, -0.6, 0.6),
    soft: between(r, 2, 18),
  };
  const [x0, x1] = r() < 0.5 ? [-0.3, 1.3] : [1.3, -0.3];
  const y = between(r, 0.2, 1) * height;
  return {
    from,
    to: from + frames - 1,
    draw(grey, w, h, k) {
      const part = (k - from + 0.5) / frames;
      ellipse(w, h, { ...shape, x: (x0 + (x1 - x0) * part) * w, y }, (i, cover) => {
        grey[i]! *= 1 + cover * (keep - 1);
      });
    },
  };
}

/** A thing with a skin of its own that comes in, moves and stands by turns, and leaves: an animal, a person, a hand. */
export function something(from: number, rate: number, width: number, height: number, r: Random): Event {
  const size = width * 2 ** between(r, -6.2, -1.9);
  const frames = Math.max(4, Math.round(between(r, 2, 14) * rate));
  const parts = Array.from({ length: 1 + Math.floor(r() * 4) }, (_, n) => ({
    x: n === 0 ? 0 : between(r, -1, 1) * size,
    y: n === 0 ? 0 : between(r, -1.2, 1.2) * size,
    rx: size * between(r, 0.4, 1),
    ry: size * between(r, 0.3, 1),
    turn: r() * 3,
    wag: between(r, 0, 0.25) * size,
    pace: between(r, 1, 6) / rate,
  }));
  const mean = between(r, 15, 230);
  const [skinWidth, skinHeight] = [64, 64];
  const skin = noiseField(skinWidth, skinHeight, between(r, 3, 12), between(r, 3, 12), r);
  const contrast = between(r, 3, 35);
  const path = walk(frames, size, width, height, rate, r);
  return {
    from,
    to: from + frames - 1,
    draw(grey, w, h, k) {
      const at = path[k - from]!;
      for (const p of parts) {
        const wag = p.wag * Math.sin(2 * Math.PI * p.pace * (k - from));
        const shape = { x: at.x + p.x + wag, y: at.y + p.y, rx: p.rx, ry: p.ry, turn: p.turn, soft: 1.5 };
        ellipse(w, h, shape, (i, cover, u, v) => {
          const su = ((Math.round(u) % skinWidth) + skinWidth) % skinWidth;
          const sv = ((Math.round(v) % skinHeight) + skinHeight) % skinHeight;
          grey[i]! += cover * (mean + contrast * skin[sv * skinWidth + su]! - grey[i]!);
        });
      }
    },
  };
}

/** From outside the frame to some places within, standing at each for a while, and out again. */
function walk(frames: number, size: number, width: number, height: number, rate: number, r: Random) {
  const side = () => (r() < 0.5 ? -size * 1.5 : width + size * 1.5);
  const stops = Array.from({ length: 1 + Math.floor(r() * 4) }, () => ({
    x: between(r, 0.05, 0.95) * width,
    y: between(r, 0.2, 0.95) * height,
  }));
  const places = [
    { x: side(), y: between(r, 0, 1.2) * height },
    ...stops,
    { x: side(), y: between(r, 0, 1.2) * height },
  ];
  const out: { x: number; y: number }[] = [];
  const legs = places.length - 1;
  const stand = between(r, 0, 0.7);
  for (let k = 0; k < frames; k++) {
    const along = (k / Math.max(1, frames - 1)) * legs;
    const leg = Math.min(legs - 1, Math.floor(along));
    const t = Math.min(1, Math.max(0, (along - leg - stand / 2) / (1 - stand)));
    const [a, b] = [places[leg]!, places[leg + 1]!];
    const fidget = (0.3 * size * (r() - 0.5)) / Math.sqrt(rate);
    out.push({ x: a.x + (b.x - a.x) * t + fidget, y: a.y + (b.y - a.y) * t });
  }
  return out;
}

/** Drops of one frame: streaks, splashes, and blurred ones close to the lens. */
export function drops(
  frame: number,
  density: number,
  width: number,
  height: number,
  slant: number,
  r: Random,
): Event {
  const many = (mean: number) => Math.floor(mean + r());
  const streaks = Array.from({ length: many(density) }, () => ({
    x: r() * width,
    y: r() * height,
    rx: between(r, 0.5, 0.9),
    ry: between(r, 2, 22),
    turn: slant + between(r, -0.06, 0.06),
    soft: 0.9,
    tone: between(r, 8, 55),
  }));
  const splashes = Array.from({ length: many(density / 2) }, () => {
    const size = between(r, 0.8, 3);
    return {
      x: r() * width,
      y: between(r, 0.35, 1) * height,
      rx: size,
      ry: size * 0.7,
      turn: 0,
      soft: 1,
      tone: between(r, -40, 70),
    };
  });
  const near = Array.from({ length: many(density / 90) }, () => {
    const size = between(r, 3, 12);
    return {
      x: r() * width,
      y: r() * height,
      rx: size,
      ry: size * between(r, 1, 6),
      turn: slant,
      soft: size,
      tone: between(r, 10, 60),
    };
  });
  return {
    from: frame,
    to: frame,
    draw(grey, w, h) {
      for (const { tone, ...shape } of [...streaks, ...splashes, ...near]) {
        ellipse(w, h, shape, (i, cover) => {
          grey[i]! += cover * tone;
        });
      }
    },
  };
}
