import { describe, expect, it } from 'vitest';
import { allSpecies } from '../../src/scene/animals/species.js';
import { drawSprite } from '../../src/scene/animals/sprite.js';
import { lens } from '../../src/scene/lens.js';
import type { SpeciesName } from '../../src/scene/spec.js';

// Pixels at 3 m through 62.2 degrees at 1280 px width: the project's table of lengths from bird and mammal guides
// (starling and below read there, wren and house sparrow from memory). A quarter of that at 320 px.
const table: [SpeciesName, number][] = [
  ['wren', 33.6],
  ['house sparrow', 51.3],
  ['starling', 74.3],
  ['blackbird', 86.6],
  ['moorhen', 118.5],
  ['hedgehog', 88.4],
];

describe('the size of an animal', () => {
  it('comes through a lens of 62.2 degrees with a focal length of 1060.94 px at 1280 px width', () => {
    expect(lens(1280, 960, 1, 2).focal).toBeCloseTo(1060.94, 2);
  });

  it.each(table)('%s at 3 m', (name, expected) => {
    const species = allSpecies[name];
    const length = (lens(1280, 960, 1, 3).focal * species.length) / 3;
    expect(length).toBeCloseTo(expected, 1);
    const s = drawSprite(species.parts({ kind: 'stand', beat: 0, turned: false }), 0, 0, length, 1);
    const columns = Array.from({ length: s.width }, (_, x) =>
      Array.from({ length: s.height }, (_, y) => s.rgba[(y * s.width + x) * 4 + 3]!).some((a) => a > 0.5),
    );
    const drawn = columns.lastIndexOf(true) - columns.indexOf(true) + 1;
    // A cocked tail shortens a bird seen from the side.
    expect(drawn / expected).toBeGreaterThan(0.82);
    expect(drawn / expected).toBeLessThan(1.08);
  });
});
