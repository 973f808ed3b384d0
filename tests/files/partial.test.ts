import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { removeNow } from '../../src/files/partial.js';
import { scratch } from '../support/workbench.js';

it('a folder goes at once, though threads of this process are writing into it', async () => {
  const top = scratch();
  const folder = join(top, 'cache');
  let going = true;
  const write = async (_: unknown, writer: number) => {
    for (let i = 0; going; i++) {
      const kind = join(folder, `kind-${i % 3}`);
      // What it writes to may be gone.
      await mkdir(kind, { recursive: true }).catch(() => undefined);
      await writeFile(join(kind, `${writer}-${i}`), 'x').catch(() => undefined);
    }
  };
  const writing = Promise.all(Array.from({ length: 4 }, write));
  let failed = 0;
  for (let i = 0; i < 100; i++) {
    await setTimeout(2);
    try {
      removeNow(folder);
    } catch {
      failed++;
    }
  }
  going = false;
  await writing;
  expect(failed).toBe(0);
});
