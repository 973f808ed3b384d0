import type { Labels, Stretch } from '../../../score/labels.js';

/** An entry of a list of the labels: a visit, a stretch, a cause. */
export type Entry = Stretch &
  Partial<
    Labels['visits'][number] & NonNullable<Labels['ignored']>[number] & NonNullable<Labels['causes']>[number]
  >;

/** What an entry is known by: its time, kind and name. */
export function keyOf({ start, end, type, name, cause }: Entry): string {
  return JSON.stringify([start, end, type, name, cause]);
}

/** Entries by what they are known by; those alike in it by their order too. */
export function keyed(entries: readonly Entry[]): Map<string, Entry> {
  const seen = new Map<string, number>();
  return new Map(
    entries.map((entry) => {
      const key = keyOf(entry);
      const nth = seen.get(key) ?? 0;
      seen.set(key, nth + 1);
      return [`${key} ${nth}`, entry];
    }),
  );
}

/** Entries without some, each taken away once. */
export function without(entries: readonly Entry[], gone: readonly Entry[]): Entry[] {
  const left = gone.map(written);
  return entries.filter((entry) => {
    const at = left.indexOf(written(entry));
    if (at < 0) return true;
    left.splice(at, 1);
    return false;
  });
}

/** Whether two values say the same, in whatever order of fields. */
export function same(a: unknown, b: unknown): boolean {
  return a === b || written(a) === written(b);
}

/** The same in whatever order. */
export function sameEntries(a: readonly Entry[], b: readonly Entry[]): boolean {
  const all = (entries: readonly Entry[]) => entries.map(written).sort().join();
  return a.length === b.length && all(a) === all(b);
}

const known = new WeakMap<object, string>();

/** Kept for each object, for none is changed once it is in the labels. */
function written(value: unknown): string {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? '';
  const before = known.get(value);
  if (before !== undefined) return before;
  const text = Array.isArray(value)
    ? `[${value.map(written).join()}]`
    : `{${Object.entries(value)
        .filter(([, field]) => field !== undefined)
        .sort(([a], [b]) => (a < b ? -1 : 1))
        .map(([name, field]) => `${JSON.stringify(name)}:${written(field)}`)
        .join()}}`;
  known.set(value, text);
  return text;
}
