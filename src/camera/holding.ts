import { type Controls, type Dial, positionOf, positions, valueAt } from './dials.js';
import type { Settings } from './settings.js';

/**
 * Dials with some settings among their positions, so that these can be tried and turned from. An even one becomes a list of the
 * values that it sets, and is called after them.
 * @returns with what was added, by what the dials set
 */
export function holding(
  controls: Controls,
  found: Settings,
): { controls: Controls; added: { sets: Dial['sets']; value: number }[] } {
  const added: { sets: Dial['sets']; value: number }[] = [];
  const dials = Object.entries(controls).map(([name, dial]): [string, Dial] => {
    const { sets } = dial;
    const value = found[sets];
    if (positionOf(dial, value) !== undefined) return [name, dial];
    const values = positions(dial).map((position) => valueAt(dial, position));
    const isFalling = values.at(-1)! < values[0]!;
    const choices = [...values, value].sort((a, b) => (isFalling ? b - a : a - b));
    added.push({ sets, value });
    return ['choices' in dial ? name : sets, { sets, choices }];
  });
  return { controls: Object.fromEntries(dials), added };
}
