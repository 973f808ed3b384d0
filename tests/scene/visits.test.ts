import { describe, expect, it } from 'vitest';
import { createScene } from '../../src/scene/scene.js';
import type { SceneSpec } from '../../src/scene/spec.js';
import { conditions, spec } from './specs.js';

/** Per frame, the places of the pixels that animals change: the scene against itself without visits. */
function changes(s: SceneSpec): number[][] {
  const { visits, ...empty } = s;
  const without = createScene(empty).drawLuminance();
  return Array.from(createScene(s).drawLuminance(), (frame) => {
    const bare = without.next().value as Uint8Array;
    const places: number[] = [];
    for (let i = 0; i < frame.length; i++) if (frame[i] !== bare[i]) places.push(i);
    return places;
  });
}

const cases: [string, SceneSpec][] = [
  [
    'birds at the log pile',
    spec({ seconds: 40, visits: { species: { wren: 1, blackbird: 1 } }, ...conditions(4) }),
  ],
  [
    'a moorhen at the water bowl in rain',
    spec({ site: 'water bowl', seconds: 30, visits: { species: { moorhen: 1 } }, ...conditions(2, 4, 900) }),
  ],
  [
    'a mouse behind grass at dusk',
    spec({
      site: 'compost heap',
      seconds: 30,
      visits: { species: { 'wood mouse': 1 } },
      ...conditions(3, 0, 60),
    }),
  ],
];

describe.each(cases)('%s', (_, s) => {
  const { labels, rate, width, height } = createScene(s);
  const changed = changes(s);

  it('shows animals in every visit from its first to its last frame and in no other frame', () => {
    const labelled = changed.map((_, k) =>
      labels.visits.some((v) => k / rate >= v.start - 1e-9 && k / rate <= v.end + 1e-9),
    );
    const shown = changed.map((places) => places.length > 0);
    for (const v of labels.visits) {
      expect(shown[Math.round(v.start * rate)]).toBe(true);
      expect(shown[Math.round(v.end * rate)]).toBe(true);
    }
    expect(shown.filter((is, k) => is && !labelled[k]).length).toBe(0);
  });

  it('keeps them inside the box of their visit, but for their shadow', () => {
    const shadow = 8;
    for (const v of labels.visits) {
      const [x, y, w, h] = v.box!;
      for (let k = Math.round(v.start * rate); k <= Math.round(v.end * rate); k++) {
        const others = labels.visits.some((o) => o !== v && k / rate >= o.start && k / rate <= o.end);
        if (others) continue;
        const strays = changed[k]!.filter((i) => {
          const px = i % width;
          const py = Math.floor(i / width);
          return (
            px < x * width - shadow ||
            px > (x + w) * width + shadow ||
            py < y * height - shadow ||
            py > (y + h) * height + shadow
          );
        });
        expect(strays.length).toBe(0);
      }
    }
  });
});
