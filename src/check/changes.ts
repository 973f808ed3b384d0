import type { Results } from './results.js';

/** What changed between two results besides the results, a line for each part, value by value: "settings: threshold 56, was 64". */
export function changesBetween(before: Results, now: Results): string[] {
  return [
    ...(before.engine === now.engine
      ? []
      : [
          `engine: what it computes has another meaning (version ${now.engine} of it, was version ${before.engine})`,
        ]),
    ...partChanges('camera', before.camera, now.camera),
    ...partChanges('settings', before.settings, now.settings),
  ];
}

type Part = Results['camera'] | Results['settings'];

function partChanges(what: string, before: Part, now: Part): string[] {
  if (before.key === now.key) return [];
  const [was, is] = [valuesOf(before), valuesOf(now)];
  const changed = [...new Set([...was.keys(), ...is.keys()])]
    .filter((path) => JSON.stringify(was.get(path)) !== JSON.stringify(is.get(path)))
    .map((path) =>
      Array.isArray(was.get(path) ?? is.get(path))
        ? `another ${path}`
        : `${path} ${is.get(path) ?? 'none'}, was ${was.get(path) ?? 'none'}`,
    );
  return [`${what}: ${changed.join('; ') || 'changed'}`];
}

/** What results follow from, by its path; a mask as one value. */
function valuesOf({ key: _, ...part }: Part): Map<string, unknown> {
  const found = new Map<string, unknown>();
  const walk = (value: unknown, path: readonly string[]) => {
    if (value === null || typeof value !== 'object' || Array.isArray(value)) found.set(path.join('.'), value);
    else for (const [name, inner] of Object.entries(value)) walk(inner, [...path, name]);
  };
  walk(part, []);
  found.delete('name');
  return found;
}
