import { type Controls, checkDials, type Dial } from '../../../../camera/dials.js';

/** Values that count pixels can be no more than there are. */
const OF_PIXELS = ['minimumArea', 'mostChanged'];

/**
 * Dials as they fit pictures of so many pixels: what is more than all of them becomes all of them.
 * @param controls as they were described, so that larger pictures bring back what smaller ones left out
 */
export function fitted(controls: Controls, pixels: number): Controls {
  const least = (x: number) => Math.min(x, pixels);
  const cut = (dial: Dial): Dial => {
    if (!OF_PIXELS.includes(dial.sets)) return dial;
    if ('choices' in dial) return { ...dial, choices: [...new Set(dial.choices.map(least))] };
    return { ...dial, gives: [least(dial.gives[0]), least(dial.gives[1])] };
  };
  return Object.fromEntries(Object.entries(controls).map(([name, dial]) => [name, cut(dial)]));
}

/** What does not fit of dials, one line that names the dial as it is called; null where all does. */
export function misfitOf(controls: Controls, pixels: number): string | null {
  try {
    checkDials(controls, pixels, 'dials');
    return null;
  } catch (error) {
    return (error as Error).message.replace(/^dials: controls\.([^:]*?)(\.[a-z]+(\[\d+\])?)?: /, '$1: ');
  }
}
