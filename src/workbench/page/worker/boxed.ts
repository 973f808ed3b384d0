import type { Labels } from '../../../score/labels.js';

/** Names what areas within boxes depend on: animal visits and their boxes; null where none has a box. */
export function boxedOf({ visits }: Pick<Labels, 'visits'>): string | null {
  const animals = visits.filter(({ type }) => type === 'animal');
  if (!animals.some(({ box }) => box)) return null;
  return JSON.stringify(animals.map(({ start, end, box }) => [start, end, box ?? null]));
}
