import type { z } from 'zod';

/** What is left of a value once it was written as JSON and read again: fields that are undefined are not. */
type AsJson<T> = T extends readonly unknown[]
  ? { -readonly [K in keyof T]: AsJson<T[K]> }
  : T extends object
    ? { -readonly [K in keyof T]: AsJson<Exclude<T[K], undefined>> }
    : T;

type Same<A, B> = (<T>() => T extends A ? 1 : 2) extends <T>() => T extends B ? 1 : 2 ? true : false;

/**
 * Whether a document's schema and the type of what is printed say the same, field by field: `true satisfies Agree<...>`
 * stops the compiler where they do not.
 */
export type Agree<Schema extends z.ZodType, Printed> = Same<AsJson<z.output<Schema>>, AsJson<Printed>>;
