import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { csvStream } from '../../src/files/csv-stream.js';
import { tempDir } from '../clip/fixtures.js';

it('tells how many bytes of a table were read, up to all of them', async () => {
  const file = join(await tempDir(), 'rows.csv');
  const text = Array.from({ length: 3000 }, (_, i) => `${i},heron\n`).join('');
  writeFileSync(file, text);
  const told: number[] = [];
  let rows = 0;
  const onProgress = (done: number, total: number) => {
    expect(total).toBe(text.length);
    told.push(done);
  };
  for await (const { cells } of csvStream(file, 'a table', { onProgress })) {
    expect(cells).toEqual([String(rows++), 'heron']);
  }
  expect(rows).toBe(3000);
  expect(told).toEqual([...told].sort((a, b) => a - b));
  expect(told.at(-1)).toBe(text.length);
});
