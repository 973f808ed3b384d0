import seedrandom from 'seedrandom';

/** Grey pictures of a made-up yard, drawn by code that shares nothing with src/scene. */
export interface FilmPlan {
  width: number;
  height: number;
  frames: number;
  /** Frames a second. */
  rate: number;
  seed: string;
  /** Grey levels of the sensor's noise (standard deviation). */
  noise: number;
  /** Seconds from one visitor to the next, on average. */
  between: number;
}

interface Visitor {
  from: number;
  radius: number;
  squash: number;
  contrast: number;
  /** Seconds since it came, and where it then is; between two of them it moves evenly. */
  way: { at: number; x: number; y: number }[];
}

export function* filmOf(plan: FilmPlan): Generator<Uint8Array> {
  const { width, height, frames, rate, seed, noise, between } = plan;
  const random = seedrandom(seed);
  const ground = groundOf(width, height, seedrandom(`ground of ${seed.split(' ')[0]}`));
  const visitors = visitorsOf(plan, random, between);
  const bush = { left: Math.round(width * 0.72), right: width - 1, top: 0, bottom: Math.round(height * 0.6) };
  const noises = Float32Array.from({ length: 65_536 }, () => noise * normal(random));
  let gust = 0;
  for (let k = 0; k < frames; k++) {
    const time = k / rate;
    if (random() < 0.01) gust = random() * 2.2;
    gust *= 0.985;
    const light = 5 * Math.sin(time / 47) + 2 * Math.sin(time / 13);
    const sway = Math.round(gust * 2 * Math.sin(time * 3.1) + gust * Math.sin(time * 7.7));
    const out = new Uint8Array(width * height);
    let n = Math.floor(random() * 65_536);
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        const inBush = x >= bush.left && y <= bush.bottom;
        const from = inBush ? Math.max(bush.left, Math.min(width - 1, x + sway)) : x;
        const value = ground[y * width + from]! + light + noises[n++ & 65_535]!;
        out[y * width + x] = Math.max(0, Math.min(255, Math.round(value)));
      }
    }
    for (const visitor of visitors) draw(visitor, time, out, width, height);
    yield out;
  }
}

function groundOf(width: number, height: number, random: () => number): Float32Array {
  const ground = new Float32Array(width * height).fill(110);
  for (let i = 0; i < 260; i++) {
    const [x0, y0] = [random() * width, random() * height];
    const [w, h] = [(2 + random() * 12) * (width / 160), (2 + random() * 10) * (width / 160)];
    const level = (random() - 0.5) * 70;
    for (let y = Math.floor(y0); y < Math.min(height, y0 + h); y++) {
      for (let x = Math.floor(x0); x < Math.min(width, x0 + w); x++) ground[y * width + x]! += level * 0.5;
    }
  }
  return ground.map((value) => Math.max(20, Math.min(230, value)));
}

function visitorsOf(
  { width, height, frames, rate }: FilmPlan,
  random: () => number,
  between: number,
): Visitor[] {
  const visitors: Visitor[] = [];
  const scale = width / 160;
  for (let time = 3; time < frames / rate; time += -between * Math.log(1 - random() * 0.98)) {
    const isSlow = random() < 0.15;
    const way: Visitor['way'] = [];
    let at = 0;
    let x = random() < 0.5 ? -10 : width + 10;
    let y = height * (0.3 + 0.65 * random());
    way.push({ at, x, y });
    const stops = 1 + Math.floor(random() * 5);
    for (let stop = 0; stop <= stops; stop++) {
      const isLast = stop === stops;
      const toX = isLast
        ? random() < 0.5
          ? -12 * scale
          : width + 12 * scale
        : width * (0.1 + 0.8 * random());
      const toY = height * (0.3 + 0.65 * random());
      const speed = scale * (isSlow ? 2 + 3 * random() : 12 + 60 * random());
      at += Math.hypot(toX - x, toY - y) / speed;
      x = toX;
      y = toY;
      way.push({ at, x, y });
      at += random() * random() * 9;
      way.push({ at, x, y });
    }
    const contrast = (random() < 0.6 ? -1 : 1) * (12 + 70 * random());
    visitors.push({
      from: time,
      radius: scale * (2 + 9 * random() * random()),
      squash: 0.5 + random(),
      contrast,
      way,
    });
  }
  return visitors;
}

function draw(visitor: Visitor, time: number, out: Uint8Array, width: number, height: number): void {
  const { from, radius, squash, contrast, way } = visitor;
  const since = time - from;
  const next = way.findIndex(({ at }) => at > since);
  if (since < 0 || next < 1) return;
  const [a, b] = [way[next - 1]!, way[next]!];
  const share = (since - a.at) / (b.at - a.at);
  const [cx, cy] = [a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)];
  const [rx, ry] = [radius, radius * squash];
  for (let y = Math.max(0, Math.floor(cy - ry)); y <= Math.min(height - 1, cy + ry); y++) {
    for (let x = Math.max(0, Math.floor(cx - rx)); x <= Math.min(width - 1, cx + rx); x++) {
      if (((x - cx) / rx) ** 2 + ((y - cy) / ry) ** 2 > 1) continue;
      const shade = contrast * (0.75 + 0.25 * Math.cos((x - cx) * 1.3));
      out[y * width + x] = Math.max(0, Math.min(255, Math.round(out[y * width + x]! + shade)));
    }
  }
}

function normal(random: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}
