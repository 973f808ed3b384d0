import { computed } from '@preact/signals';
import { change, labels } from '../../state/labels.js';
import { OfClip } from '../../state/of-clip.js';
import {
  addCorner,
  addShape,
  type Chosen,
  type Kind,
  moveCorner,
  type Point,
  removeCorner,
  removeShape,
  within,
} from './shapes.js';

/** What is drawn next. */
export const kind = new OfClip<Kind>('mask');
/** Corners of the polygon that is being drawn; null where none is. */
export const draft = new OfClip<readonly Point[] | null>(null);
/** Where the cross of the keyboard is. */
export const cross = new OfClip<Point>([0.5, 0.5]);
export const chosen = new OfClip<Chosen | null>(null);
/** A corner on its way, before it is let go. */
export const moving = new OfClip<{ chosen: Chosen; to: Point } | null>(null);

/** Labels as they look now, with a corner on its way. */
export const shown = computed(() => {
  const { value: way } = moving;
  return way ? moveCorner(labels.value, way.chosen, way.to) : labels.value;
});

const words: Record<Kind, string> = { mask: 'mask', foliage: 'foliage' };

export function begin(what: Kind): void {
  kind.value = what;
  draft.value = [];
  chosen.value = null;
}

/** Adds a corner to what is being drawn. */
export function corner(at: Point): void {
  if (draft.value) draft.value = [...draft.value, within(at)];
}

/** Closes what is being drawn; with less than three corners there is nothing to close. */
export function close(): void {
  const corners = draft.value;
  if (!corners || corners.length < 3) return;
  const polygon = (labels.value[kind.value] ?? []).length;
  change(`${words[kind.value]} drawn`, (now) => addShape(now, kind.value, [...corners]));
  draft.value = null;
  chosen.value = { kind: kind.value, polygon, corner: 0 };
}

export function giveUp(): void {
  draft.value = null;
}

/** Takes back the corner drawn last. */
export function back(): void {
  if (draft.value) draft.value = draft.value.slice(0, -1);
}

export function letGo(): void {
  const { value: way } = moving;
  moving.value = null;
  if (way) change('a corner moved', (now) => moveCorner(now, way.chosen, way.to));
}

export function add(at: Chosen): void {
  change('a corner added', (now) => addCorner(now, at));
  chosen.value = { ...at, corner: at.corner + 1 };
}

export function remove(at: Chosen): void {
  change('a corner removed', (now) => removeCorner(now, at));
  const left = labels.value[at.kind]?.[at.polygon]?.length ?? 0;
  chosen.value = left > 0 ? { ...at, corner: Math.min(at.corner, left - 1) } : null;
}

export function removeAll(at: Chosen): void {
  change(`${words[at.kind]} removed`, (now) => removeShape(now, at));
  chosen.value = null;
}
