import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';

const SRC = fileURLToPath(new URL('../../src/', import.meta.url));
const WRITES =
  /(?<!Plot\.)\b(writeFile|appendFile|createWriteStream|copyFile|cp|rename|truncate|symlink|link|writeAtomic|outputFile|toFile)(Sync)?\(|\bopen\([^)]*'(w|a|r\+)/;

/** Who may write besides src/files, and what. */
const ALLOWED = new Map([
  ['store/cache.ts', 'what is kept, each entry whole'],
  ['diagnose/cures/change-maps.ts', 'a file in the cache that has no name once it is open'],
  ['lab/train.ts', 'the source of the cause model'],
]);

it('every file is written through src/files, which destroys nothing', () => {
  const files = readdirSync(SRC, { recursive: true, encoding: 'utf8' }).filter((name) =>
    name.endsWith('.ts'),
  );
  const writers = files.filter(
    (file) => !file.startsWith('files/') && WRITES.test(readFileSync(join(SRC, file), 'utf8')),
  );
  expect(writers.sort()).toEqual([...ALLOWED.keys()].sort());
});
