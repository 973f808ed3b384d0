import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { readRegular } from '../../src/files/regular.js';

const folder = mkdtempSync(join(tmpdir(), 'regular-'));
afterAll(() => rmSync(folder, { recursive: true }));

describe('a file that is too long', () => {
  it.each([
    [2 ** 20 + 1, 2 ** 20, 'the file is 1.1 MB long; expected labels, which takes no more than 1 MB'],
    [3 * 2 ** 20, 2 ** 20, 'the file is 3 MB long; expected labels, which takes no more than 1 MB'],
    [1_600_000, 1_500_000, 'the file is 1.6 MB long; expected labels, which takes no more than 1.4 MB'],
  ])('of %d bytes is told by another length than the most that may be', async (bytes, most, message) => {
    const file = join(folder, `${bytes}`);
    writeFileSync(file, Buffer.alloc(bytes));
    await expect(readRegular(file, 'labels', most)).rejects.toThrow(message);
  });
});
