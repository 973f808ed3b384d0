import { readdirSync } from 'node:fs';
import { expect, it } from 'vitest';
import { Problem } from '../../src/base/problem.js';
import { Cache } from '../../src/store/cache.js';
import { saveInto } from '../../src/workbench/save.js';
import { scratch } from '../support/workbench.js';

it('nothing is saved where one of several files cannot be made', async () => {
  const folder = scratch();
  const files = [
    { name: 'hedge-card.html', content: () => 'a card' },
    {
      name: 'pond-card.html',
      content: () => Promise.reject(new Problem('bad-picture', 'a picture that cannot be read')),
    },
  ];
  const saving = saveInto(folder, files, true, { cache: Cache.inMemory() });
  await expect(saving).rejects.toThrow('a picture that cannot be read');
  expect(readdirSync(folder)).toEqual([]);
});
