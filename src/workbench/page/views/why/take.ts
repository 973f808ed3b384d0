import { batch } from '@preact/signals';
import { settingChanges } from '../../../../camera/changes.js';
import { dialFor, positionOf } from '../../../../camera/dials.js';
import type { Settings } from '../../../../camera/settings.js';
import type { Polygon } from '../../../../engine/mask.js';
import type { Present } from '../../../../words/change-wording.js';
import { tidy } from '../../../../words/wording.js';
import { change, labels } from '../../state/labels.js';
import { maskTaken } from '../../state/mask-taken.js';
import { OfClip } from '../../state/of-clip.js';
import { controls, turned } from '../../state/settings.js';

/** What is to be taken over: dials by their names, and a mask where it is another. */
export interface Step {
  /** On the button: 'Turn minimumArea to 100', 'Put this mask on'. */
  words: string;
  dials: Record<string, number>;
  mask: Polygon[] | null;
}

/** What was taken over last, and how it was before. */
export const taken = new OfClip<{
  words: string;
  dials: Record<string, number>;
  /** The labels' where another was put on; and the one that came with settings. */
  mask: Polygon[] | null;
  before: typeof maskTaken.value;
} | null>(null);

/**
 * How settings can be taken over.
 * @returns null where no position of the camera's dials gives them, or nothing differs
 */
export function stepTo(to: Settings & { mask?: Polygon[] }, now: Present): Step | null {
  const changes = settingChanges(now.settings, to, now.camera.controls);
  const dials: Record<string, number> = {};
  for (const value of ['threshold', 'minimumArea', 'mostChanged', 'persistence', 'cooldown'] as const) {
    if (to[value] === now.settings[value]) continue;
    const [name, dial] = dialFor(now.camera.controls, value) ?? [];
    const position = dial && positionOf(dial, to[value]);
    if (name === undefined || position === undefined) return null;
    dials[name] = position;
  }
  const mask = to.mask && JSON.stringify(to.mask) !== JSON.stringify(now.mask) ? to.mask : null;
  const words = [
    ...(changes.length > 0
      ? [`turn ${changes.map(({ name, is }) => `${name} to ${tidy(is)}`).join(' and ')}`]
      : []),
    ...(mask ? ['put this mask on'] : []),
  ].join(', ');
  if (words === '') return null;
  return { words: words.charAt(0).toUpperCase() + words.slice(1), dials, mask };
}

export function take({ words, dials, mask }: Step): void {
  batch(() => {
    const before = maskTaken.value;
    taken.value = { words, dials: controls.value, mask: mask && (labels.value.mask ?? []), before };
    turned.value = { ...controls.value, ...dials };
    if (!mask) return;
    // It holds whatever was masked before, in the settings or in the labels.
    maskTaken.value = null;
    change('a mask put on', (now) => ({ ...now, mask }));
  });
}

/** As it was before the last thing that was taken over. */
export function takeBack(): void {
  const before = taken.value;
  if (!before) return;
  batch(() => {
    taken.value = null;
    turned.value = before.dials;
    if (before.mask) {
      const { mask } = before;
      maskTaken.value = before.before;
      change('a mask taken off', ({ mask: _, ...rest }) => (mask.length > 0 ? { ...rest, mask } : rest));
    }
  });
}
