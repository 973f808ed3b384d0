import type { z } from 'zod';

/** What is asked of a zod schema here, which has it in every kind that has it at all. */
interface SchemaDef {
  type?: string;
  innerType?: z.ZodType;
  options?: z.ZodType[];
  in?: z.ZodType;
  shape?: Record<string, z.ZodType>;
  element?: z.ZodType;
  valueType?: z.ZodType;
  items?: z.ZodType[];
  values?: unknown[];
  entries?: Record<string, unknown>;
  format?: string;
  checks?: { _zod: { def: { check: string; value?: unknown; inclusive?: boolean } } }[];
}

function defOf(schema: z.ZodType): SchemaDef {
  return (schema as { def?: SchemaDef }).def ?? {};
}

/** All schemas that a path leads to: several where a union lies on the way. */
function schemasAt(schema: z.ZodType, path: readonly PropertyKey[]): z.ZodType[] {
  const { innerType, options, in: before, shape, element, valueType, items } = defOf(schema);
  if (innerType) return schemasAt(innerType, path);
  if (options) return options.flatMap((option) => schemasAt(option, path));
  if (before) return schemasAt(before, path);
  const [key, ...rest] = path;
  if (key === undefined) return [schema];
  const field = shape && Object.hasOwn(shape, key) ? shape[String(key)] : undefined;
  const next = field ?? element ?? valueType ?? items?.[Number(key)];
  return next ? schemasAt(next, rest) : [];
}

/**
 * The field names of the object that a path leads to, so that a message about an unknown field can offer them.
 * @param value what stands there: of several kinds of object those are meant whose words it has
 */
export function knownFields(schema: z.ZodType, path: readonly PropertyKey[], value: unknown): string[] {
  const shapes = schemasAt(schema, path).map((found) => defOf(found).shape ?? {});
  const meant = shapes.filter((shape) =>
    Object.entries(shape).every(([name, of]) => mayBe(of, at(value, name))),
  );
  return [...new Set((meant.length > 0 ? meant : shapes).flatMap((shape) => Object.keys(shape)))];
}

/** Whether a field that is one word in this kind of object is that word, or is not there. */
function mayBe(field: z.ZodType, found: unknown): boolean {
  const { values } = defOf(field);
  return values === undefined || found === undefined || values.includes(found);
}

function at(value: unknown, name: string): unknown {
  return value !== null && typeof value === 'object' && Object.hasOwn(value, name)
    ? (value as Record<string, unknown>)[name]
    : undefined;
}

/** The number that may stand at a path, in words: "a whole number from 1 to 8192"; null where no number may. */
export function numberAt(schema: z.ZodType, path: readonly PropertyKey[]): string | null {
  const def = schemasAt(schema, path)
    .map(defOf)
    .find(({ type }) => type === 'number');
  if (!def) return null;
  const bounds = (check: string) =>
    (def.checks ?? []).map(({ _zod }) => _zod.def).filter((bound) => bound.check === check);
  const low = bounds('greater_than').sort((a, b) => Number(b.value) - Number(a.value))[0];
  const high = bounds('less_than').sort((a, b) => Number(a.value) - Number(b.value))[0];
  const what = def.format === 'safeint' ? 'a whole number' : 'a number';
  if (low && high?.inclusive) {
    return low.inclusive
      ? `${what} from ${low.value} to ${high.value}`
      : `${what} above ${low.value} and up to ${high.value}`;
  }
  if (low) return `${what} ${low.inclusive ? 'of at least' : 'above'} ${low.value}`;
  return high ? `${what} ${high.inclusive ? 'of at most' : 'below'} ${high.value}` : what;
}

/** What may stand where a union does, in words: its words, or the fields of each of its objects; null where it has neither. */
export function anyOf(schema: z.ZodType, path: readonly PropertyKey[]): string | null {
  const defs = schemasAt(schema, path).map(defOf);
  const words = defs.flatMap(({ values, entries }) => values ?? Object.values(entries ?? {}));
  if (words.length > 0) return [...new Set(words)].map((word) => JSON.stringify(word)).join(' or ');
  const objects = defs.flatMap(({ shape }) => (shape ? [Object.keys(shape).join(', ')] : []));
  return objects.length > 0 ? `an object with ${objects.join(', or one with ')}` : null;
}
