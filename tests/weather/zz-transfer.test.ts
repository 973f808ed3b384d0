import { existsSync } from 'node:fs';
import { it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { openClip } from '../../src/clip/open.js';
import { EvidenceMeter } from '../../src/engine/evidence.js';
import { Differencer } from '../../src/engine/pipeline.js';
import { luminanceFrames } from '../../src/measure/evidence.js';
import { foliageOf, setupFor } from '../../src/measure/weather/setup-for.js';
import { measureSway } from '../../src/measure/weather/two-clips.js';
import { Cache } from '../../src/store/cache.js';
import { createWeather } from '../../src/weather/weather.js';
import { writeYardClip } from '../evaluate/yard-clip.js';
import { createYard } from '../evaluate/yards/yard.js';

const { width, height } = defaultCamera.analysis;
const seeds = (process.env.YARDS ?? 'build-1 build-2 build-3').split(' ');
const outlined = process.env.OUT === '1';
const winds = (process.env.WINDS ?? '3 4 5 6').split(' ').map(Number);
const levels = [8, 16, 24, 32, 48, 64];
const areas = [25, 50, 100, 200, 400, 800];
async function clipOf(seed: string, wind: number | null, again?: string) {
  const yard = createYard(seed, { seconds: 60 });
  const day = { wind: wind ?? yard.calm, rain: 0, light: yard.daylight, ...(again && { again }) };
  const dir = `/tmp/sw/yards/${seed}-${wind ?? 'calm'}${again ?? ''}${outlined ? 'o' : ''}`;
  if (!existsSync(`${dir}/labels.json`)) await writeYardClip(yard, day, dir, { outlined });
  return openClip(dir, { cache: new Cache('/tmp/sw/cache') });
}
type Clip = Awaited<ReturnType<typeof clipOf>>;
function triggersOf(frames: { y: Uint8Array; t: number }[], clip: Clip) {
  const d = new Differencer({
    ...defaultCamera.analysis,
    reference: { kind: 'previous', lag: 1 },
    mask: null,
  });
  const meter = new EvidenceMeter(width, height, 5);
  const rows = frames.map(({ y, t }) => meter.measure(d.next(y, t)).region.slice());
  const busy = (t: number) => clip.labels!.visits!.some((v) => t >= v.start - 0.4 && t <= v.end + 0.4);
  return levels.flatMap((l) =>
    areas.map((a) => {
      let [n, last] = [0, -9];
      frames.forEach(({ t }, k) => {
        if (k && !busy(t) && rows[k]![l]! >= a && t - last >= 2) {
          n++;
          last = t;
        }
      });
      return n;
    }),
  );
}
async function framesOf(clip: Clip, change: (y: Uint8Array, t: number) => Uint8Array = (y) => y) {
  const out: { y: Uint8Array; t: number }[] = [];
  const idx = clip.times.map((_, i) => i);
  for await (const y of luminanceFrames(clip, idx, defaultCamera.analysis)) {
    const t = clip.times[out.length]!;
    out.push({ y: Uint8Array.from(change(y, t)), t });
  }
  return out;
}
const ratios = new Map<string, number[]>();
it('transfer', { timeout: 3_600_000 }, async () => {
  for (const seed of seeds) {
    const calm = await clipOf(seed, null);
    const windy = await clipOf(seed, Number(process.env.FROM ?? 4), 'again');
    const yard = createYard(seed);
    let measured: Awaited<ReturnType<typeof measureSway>> | null = null;
    const t0 = performance.now();
    try {
      measured = await measureSway(calm, windy, defaultCamera, '1');
    } catch (e) {
      console.log(seed, (e as Error).message);
    }
    const t1 = performance.now();
    console.log(
      seed,
      yard.plants.join(' '),
      'calm',
      yard.calm.toFixed(2),
      yard.form.kind,
      (t1 - t0).toFixed(0),
      measured?.motion.how ?? '',
    );
    const f = await foliageOf(calm, width, height);
    console.log(
      '   ',
      f.defaults.join(),
      'joined',
      measured &&
        (measured.foliage.map.reduce((a, v) => a + v, 0) / 255 / measured.foliage.map.length).toFixed(3),
    );
    for (const wind of winds) {
      const drawnClip = await clipOf(seed, wind);
      const drawn = triggersOf(await framesOf(drawnClip), drawnClip);
      const ways = {
        assumed: { motion: null },
        own: {},
        ...(measured && { two: { motion: measured.motion, foliage: measured.foliage } }),
      };
      const line: string[] = [];
      for (const [name, more] of Object.entries(ways)) {
        const { setup } = await setupFor(
          calm,
          defaultCamera,
          { wind },
          { width, height, seed: '7', ...more },
        );
        const w = createWeather(setup);
        if (name === 'own' && wind === winds[0]) console.log('   ', setup.motion?.how);
        const sim = triggersOf(await framesOf(calm, (y, t) => w.apply(y, t)), calm);
        const key = `${name} ${wind}`;
        const rs = sim.flatMap((a, i) => {
          const b = drawn[i]!;
          const most = 22;
          return a + b >= 4 && !(a > most && b > most) ? [(a + 0.5) / (b + 0.5)] : [];
        });
        ratios.set(key, [...(ratios.get(key) ?? []), ...rs]);
        line.push(
          `${name} ${((sim.reduce((a, b) => a + b) + 1) / (drawn.reduce((a, b) => a + b) + 1)).toFixed(2)} med ${med(rs).toFixed(2)}`,
        );
      }
      console.log(
        '   wind',
        wind,
        line.join(' | '),
        'drawn',
        drawn.reduce((a, b) => a + b),
      );
    }
  }
  for (const [key, rs] of [...ratios].sort())
    console.log(
      key,
      'median',
      med(rs).toFixed(2),
      'quartiles',
      q(rs, 0.25).toFixed(2),
      q(rs, 0.75).toFixed(2),
      'within 3:',
      (rs.filter((r) => r < 3 && r > 1 / 3).length / rs.length).toFixed(2),
      'n',
      rs.length,
    );
});
function q(rs: number[], p: number) {
  const s = [...rs].sort((a, b) => a - b);
  return s[Math.floor(p * (s.length - 1))] ?? NaN;
}
function med(rs: number[]) {
  return q(rs, 0.5);
}
