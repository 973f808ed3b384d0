import type { Labels, Visit } from './labels.js';

type Named = { start: number; end: number; name?: string | undefined };

const keyOf = ({ start, end, name }: Named) => JSON.stringify([start, end, name]);

const found = new WeakMap<Labels, Map<string, Visit>>();

/** The label of an animal's visit as it was judged: the first with its start, end and name; undefined where there is none. */
export function labelOf(labels: Labels | null, visit: Named): Visit | undefined {
  if (!labels) return undefined;
  let byKey = found.get(labels);
  if (!byKey) {
    byKey = new Map();
    for (const label of labels.visits) {
      const key = keyOf(label);
      if (label.type === 'animal' && !byKey.has(key)) byKey.set(key, label);
    }
    found.set(labels, byKey);
  }
  return byKey.get(keyOf(visit));
}
