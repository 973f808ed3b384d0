import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { labelsOnDisk, writeLabels } from '../../../src/workbench/labels-on-disk.js';
import { scratch } from '../../support/workbench.js';

const clip = { seconds: 10, labels: null };

function sheet(content: object | null) {
  const folder = scratch();
  const place = { path: folder, labelsFile: join(folder, 'labels.json') };
  if (content) writeFileSync(place.labelsFile, JSON.stringify(content));
  return { place, read: () => JSON.parse(readFileSync(place.labelsFile, 'utf8')) as object };
}

it('writes back as it was what the page was only shown a part of', async () => {
  const past = {
    $schema: 'labels.schema.json',
    version: 1,
    visits: [{ start: 9, end: 10.5, type: 'animal' }],
    ignored: [
      { start: 8, end: 60 },
      { start: 40, end: 50, why: 'taking down' },
    ],
    causes: [{ start: 11, end: 12, cause: 'wind' }],
  };
  const { place, read } = sheet(past);
  const { labels, revision } = await labelsOnDisk(place, clip);
  expect(labels?.ignored).toEqual([{ start: 8, end: 10 }]);
  const named = { ...labels!, visits: [...labels!.visits, { start: 1, end: 2, type: 'animal' as const }] };
  expect((await writeLabels(place, clip, named, revision)).written).toBe(true);
  expect(read()).toEqual({ ...past, visits: [...past.visits, { start: 1, end: 2, type: 'animal' }] });
});

it('lets go of what the page took away, and of nothing else', async () => {
  const { place, read } = sheet({
    version: 1,
    visits: [],
    ignored: [
      { start: 8, end: 60 },
      { start: 40, end: 50 },
    ],
  });
  const { labels, revision } = await labelsOnDisk(place, clip);
  await writeLabels(place, clip, { ...labels!, ignored: [] }, revision);
  expect(read()).toEqual({ version: 1, visits: [], ignored: [{ start: 40, end: 50 }] });
});

it('writes nothing over a file that is not what the page started from', async () => {
  const { place, read } = sheet({ version: 1, visits: [] });
  const written = await writeLabels(place, clip, { version: 1, visits: [], mask: [] }, '');
  expect(written).toMatchObject({ written: false, labels: { version: 1, visits: [] } });
  expect(read()).toEqual({ version: 1, visits: [] });
});

it('names the file the same for every server, and others otherwise', async () => {
  const { place } = sheet(null);
  const [one, again, other] = await Promise.all([
    labelsOnDisk(place, clip),
    labelsOnDisk(place, null),
    labelsOnDisk(sheet(null).place, clip),
  ]);
  expect(again.file).toBe(one.file);
  expect(other.file).not.toBe(one.file);
});
