import { clock, plural } from '../../../../base/figures.js';
import type { Labels } from '../../../../score/labels.js';
import { lookedThrough } from '../../state/sheet.js';

/** '9 visits, 5:30 of 5:30 looked through'. */
export function overview(labels: Labels, seconds: number): string {
  const animals = labels.visits.filter(({ type }) => type === 'animal').length;
  const others = labels.visits.length - animals;
  const through = `${clock(lookedThrough(labels, seconds))} of ${clock(seconds)} looked through`;
  const rest = others === 0 ? '' : `; ${plural(others, 'time')} somebody else than an animal`;
  return `${plural(animals, 'visit')}, ${through}${rest}`;
}
