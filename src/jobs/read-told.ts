import { z } from 'zod';
import { Problem } from '../base/problem.js';
import { readJson } from '../files/read-json.js';

const WHAT = 'what perchmark tune --json or perchmark plan --json printed';
/** Sites of other verbs' documents have neither. */
const told = z.looseObject({
  sites: z
    .array(z.looseObject({ recommended: z.unknown().optional(), stretches: z.unknown().optional() }))
    .refine((sites) => sites.every((one) => one.recommended !== undefined || one.stretches !== undefined)),
});

/**
 * Reads what `tune --json` or `plan --json` printed.
 * @param schema as much of it as is needed
 * @throws Problem for another file, one line that says how such a one is made; and as `readJson` does
 */
export async function readTold<S extends z.ZodType>(file: string, schema: S): Promise<z.output<S>> {
  const document = await readJson(file, z.unknown(), WHAT);
  if (!told.safeParse(document).success) {
    throw new Problem(
      'bad-field',
      `${file}: expected ${WHAT}, found another file; make it with: perchmark tune my-clip --json > tune.json`,
    );
  }
  return readJson(file, schema, WHAT);
}
