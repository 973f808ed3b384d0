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
  ['lab/compile-assembly.ts', 'the bytes of what is written in AssemblyScript'],
  ['lab/train.ts', 'the source of the cause model'],
]);

const sources = readdirSync(SRC, { recursive: true, encoding: 'utf8' }).filter((name) =>
  /\.tsx?$/.test(name),
);

it('folders on the way are made by makeFolders alone: Node never comes back from where none can be made', () => {
  const makers = sources.filter((file) =>
    /mkdir(Sync)?\([^;]*recursive/.test(readFileSync(join(SRC, file), 'utf8')),
  );
  expect(makers).toEqual([]);
});

it('every file is written through src/files, which destroys nothing', () => {
  const writers = sources.filter(
    (file) => !file.startsWith('files/') && WRITES.test(readFileSync(join(SRC, file), 'utf8')),
  );
  expect(writers.sort()).toEqual([...ALLOWED.keys()].sort());
});
