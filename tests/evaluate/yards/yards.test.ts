import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { createYard, type Day } from './yard.js';

const HERE = fileURLToPath(new URL('.', import.meta.url));
const calm: Day = { wind: 1.5, rain: 0, light: 8000 };

function framesOf(seed: string, day: Day, seconds = 4, bare = false): Uint8Array[] {
  const yard = createYard(seed, { seconds, bare, width: 160, height: 120 });
  return Array.from(yard.draw(day), (y) => Uint8Array.from(y));
}

/** Mean over frames of the share of pixels that change by `level` or more from one to the next. */
function stir(frames: Uint8Array[], level = 15): number {
  let changed = 0;
  for (let k = 1; k < frames.length; k++) {
    for (let i = 0; i < frames[k]!.length; i++) {
      if (Math.abs(frames[k]![i]! - frames[k - 1]![i]!) >= level) changed++;
    }
  }
  return changed / (frames.length - 1) / frames[0]!.length;
}

describe('yards', () => {
  it('are drawn from nothing but their own files and dice: they share no figure with what they judge', () => {
    const files = readdirSync(HERE, { recursive: true, encoding: 'utf8' }).filter(
      (name) => name.endsWith('.ts') && !name.endsWith('.test.ts'),
    );
    expect(files.length).toBeGreaterThan(10);
    const outside = files.flatMap((file) =>
      [...readFileSync(join(HERE, file), 'utf8').matchAll(/(?:from|import\()\s*'([^']+)'/g)]
        .map(([, to]) => to!)
        .filter((to) => to !== 'seedrandom')
        .filter((to) => !to.startsWith('.') || relative(HERE, join(HERE, dirname(file), to)).startsWith('..'))
        .map((to) => `${file} imports ${to}`),
    );
    expect(outside).toEqual([]);
  });

  it('are the same from the same seed and day, byte for byte, and others from others', () => {
    const day = { wind: 4, rain: 4, light: 20 };
    const first = framesOf('build-same', day, 2);
    expect(framesOf('build-same', day, 2)).toEqual(first);
    expect(framesOf('build-other', day, 2)).not.toEqual(first);
    expect(framesOf('build-same', { ...day, again: 'another' }, 2)).not.toEqual(first);
  });

  it('stir the more the stronger the wind, and where nothing grows not at all', () => {
    const seeds = ['build-a', 'build-b', 'build-c', 'build-d'];
    const mean = (wind: number, bare: boolean) =>
      seeds.reduce((sum, seed) => sum + stir(framesOf(seed, { ...calm, wind }, 4, bare)), 0) / seeds.length;
    const [still, breeze, gale] = [mean(1.5, false), mean(4, false), mean(6, false)];
    expect(breeze).toBeGreaterThan(1.5 * still);
    expect(gale).toBeGreaterThan(breeze);
    expect(mean(6, true)).toBeCloseTo(mean(1.5, true), 3);
  });

  it('show as many animals as they say, and nothing of them between visits', () => {
    const yard = createYard('build-animals', { seconds: 60, bare: true });
    expect(yard.visits.length).toBeGreaterThanOrEqual(5);
    const frames = Array.from(yard.draw(calm), (y) => Uint8Array.from(y));
    const during = (k: number) =>
      yard.visits.some(({ start, end }) => k / 5 >= start - 0.2 && k / 5 <= end + 0.2);
    const pairs = frames.slice(1).map((y, k) => [k + 1, stir([frames[k]!, y], 25)] as const);
    const outside = pairs.filter(([k]) => !during(k)).map(([, s]) => s);
    for (const { start, end, name } of yard.visits) {
      const inside = pairs.filter(([k]) => k / 5 >= start && k / 5 <= end).map(([, s]) => s);
      expect(Math.max(...inside), name).toBeGreaterThan(Math.max(...outside));
    }
  });
});
