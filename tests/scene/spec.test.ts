import { describe, expect, it } from 'vitest';
import { sceneSpec } from '../../src/scene/spec.js';
import { spec } from './specs.js';

describe('a scene file', () => {
  it('may leave out the size and rate', () => {
    expect(spec()).toMatchObject({ width: 320, height: 240, rate: 5 });
  });

  it.each([
    ['an unknown field', { insect: 3 }, 'insect'],
    ['an unknown site', { site: 'pond' }, 'site'],
    ['an unknown species', { visits: { species: { robin: 1 } } }, 'visits'],
    ['no species', { visits: { species: {} } }, 'visits'],
    ['a person for longer than the clip', { person: { start: 15, end: 5 } }, 'person'],
    ['wind beyond Beaufort 12', { conditions: { wind: 13, rain: 0, light: 1 } }, 'conditions'],
    ['more frames than are laid out', { seconds: 86_400, rate: 60 }, 'at most 864000 frames'],
    [
      'more visits than are laid out',
      { visits: { species: { wren: 4000, starling: 1001 } } },
      'at most 5000 visits',
    ],
    [
      'as many by the hour',
      { seconds: 86_400, visits: { perHour: 209, species: { wren: 1 } } },
      'at most 5000 visits',
    ],
    ['a start without a zone', { start: '2026-05-04T06:50:00' }, 'start'],
  ])('is refused for %s', (_, change, where) => {
    const result = sceneSpec.safeParse({ ...spec(), ...change });
    expect(result.success).toBe(false);
    expect(JSON.stringify(result.error?.issues)).toContain(where);
  });
});
