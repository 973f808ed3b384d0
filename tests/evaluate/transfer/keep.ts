import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Cache } from '../../../src/store/cache.js';
import { keyOf } from '../../../src/store/key.js';
import { readSealed, writeSealed } from '../../../src/store/sealed.js';

const ROOT = fileURLToPath(new URL('../../../', import.meta.url));
const cache = new Cache();

/** A key of the sources in some folders or files, so that nothing made by other code is taken for made by this. */
export function sourceKey(...paths: string[]): string {
  const files = paths.flatMap((path) =>
    statSync(join(ROOT, path)).isDirectory()
      ? readdirSync(join(ROOT, path), { recursive: true, encoding: 'utf8' })
          .filter((name) => name.endsWith('.ts') && !name.endsWith('.test.ts'))
          .sort()
          .map((name) => join(path, name))
      : [path],
  );
  return keyOf(...files.flatMap((file) => [file, readFileSync(join(ROOT, file), 'utf8')]));
}

/** What was kept under a name and key, or else is made now and kept: an evaluation that was stopped goes on. */
export async function keep<T>(name: string, key: string, make: () => Promise<T>): Promise<T> {
  const entry = ['transfer', `${name}-${key.slice(0, 24)}`];
  const kept = await readSealed(cache, entry);
  if (kept) return JSON.parse(kept.toString('utf8')) as T;
  const made = await make();
  await writeSealed(cache, entry, Buffer.from(JSON.stringify(made)));
  return made;
}
