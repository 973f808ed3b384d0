import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { createScene } from '../../src/scene/scene.js';
import type { SceneSpec } from '../../src/scene/spec.js';
import { conditions, spec } from './specs.js';

function hash(s: SceneSpec): string {
  const sum = createHash('sha256');
  for (const frame of createScene(s).draw()) sum.update(frame);
  return sum.digest('hex');
}

/** Mean over frames of the number of pixels that differ from the frame before by at least 12. */
function moving(s: SceneSpec): number {
  let before: Uint8Array | undefined;
  let changed = 0;
  for (const frame of createScene(s).drawLuminance()) {
    if (before) for (let i = 0; i < frame.length; i++) if (Math.abs(frame[i]! - before[i]!) >= 12) changed++;
    before = frame.slice();
  }
  return changed / (s.seconds * s.rate - 1);
}

const visited: Partial<SceneSpec> = { seconds: 4, visits: { species: { blackbird: 1 } }, insects: 900 };

describe('a scene', () => {
  it.each(['log pile', 'water bowl', 'compost heap'] as const)(
    'is the same bytes for the same seed: %s',
    (site) => {
      const one = spec({ ...visited, site, ...conditions(4, 5, 800) });
      expect(hash(one)).toBe(hash(one));
    },
  );

  it('is different bytes for another seed', () => {
    expect(hash(spec({ ...visited, seed: 'two' }))).not.toBe(hash(spec(visited)));
  });

  it('draws a frame alone as it does in its turn', () => {
    const scene = createScene(spec({ ...visited, ...conditions(3, 5) }));
    const inTurn = [...scene.draw(0, 8)].length && Buffer.from([...scene.draw(7, 8)][0]!).toString('hex');
    let last = '';
    for (const frame of scene.draw(0, 8)) last = Buffer.from(frame).toString('hex');
    expect(last).toBe(inTurn);
  });

  it('gives luminance as ITU-R BT.601 has it for the same frame', () => {
    const scene = createScene(spec());
    const rgb = [...scene.draw(3, 4)][0]!.slice();
    const grey = [...scene.drawLuminance(3, 4)][0]!;
    const wrong = grey.filter((y, i) => {
      const exact = 0.299 * rgb[i * 3]! + 0.587 * rgb[i * 3 + 1]! + 0.114 * rgb[i * 3 + 2]!;
      return Math.abs(y - exact) > 0.5 + 1e-9;
    });
    expect(wrong.length).toBe(0);
  });

  it('has frames for as long as it says, however long', () => {
    const scene = createScene(
      spec({ seconds: 3600, rate: 1, visits: { perHour: 30, species: { wren: 1 } } }),
    );
    expect(scene.frames).toBe(3600);
    expect(scene.labels.visits.length).toBe(30);
  });

  it('moves more with more wind', () => {
    const still = moving(spec({ seconds: 6, ...conditions(0) }));
    const breeze = moving(spec({ seconds: 6, ...conditions(2) }));
    const gale = moving(spec({ seconds: 6, ...conditions(6) }));
    expect(breeze).toBeGreaterThan(2 * still);
    expect(gale).toBeGreaterThan(1.5 * breeze);
  });

  it('moves more in rain', () => {
    const dry = moving(spec({ seconds: 4, ...conditions(0, 0, 2000) }));
    expect(moving(spec({ seconds: 4, ...conditions(0, 8, 2000) }))).toBeGreaterThan(2 * dry);
  });

  it('keeps the visits when only the weather changes', () => {
    const names = (wind: number, rain: number) =>
      createScene(spec({ ...visited, seconds: 60, ...conditions(wind, rain) })).labels.visits.map(
        (v) => v.name,
      );
    expect(names(6, 10)).toEqual(names(0, 0));
  });

  it('keeps the garden when only the weather seed changes', () => {
    const first = (weather: string) =>
      createScene(spec({ seeds: { weather }, ...conditions(0) })).labels.foliage;
    expect(first('b')).toEqual(first('a'));
  });

  it('ignores the time in which a person is about', () => {
    const { labels } = createScene(spec({ seconds: 60, person: { start: 12, end: 9 } }));
    expect(labels.ignored).toEqual([
      { start: 0, end: 12, why: 'setting up' },
      { start: 51, end: 60, why: 'taking down' },
    ]);
    expect(labels.visits.map((v) => v.type)).toEqual(['human', 'human']);
  });
});
