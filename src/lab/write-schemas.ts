import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { writeAtomic } from '../files/atomic.js';
import { jsonSchemaNamed, schemasListed } from '../jobs/schemas.js';

/** Writes all JSON Schemas as files that an editor can be pointed at; part of the build. */
const dir = process.argv[2] ?? fileURLToPath(new URL('../schemas/', import.meta.url));
await mkdir(dir, { recursive: true });
for (const { name } of schemasListed) {
  const text = `${JSON.stringify(await jsonSchemaNamed(name), null, 2)}\n`;
  await writeAtomic(join(dir, `${name}.schema.json`), text);
}
