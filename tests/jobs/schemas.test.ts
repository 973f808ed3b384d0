import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { defaultCamera } from '../../src/camera/default.js';
import { jsonSchemaNamed, schemasListed } from '../../src/jobs/schemas.js';

const clips = fileURLToPath(new URL('../../clips/', import.meta.url));
const read = (file: string) => JSON.parse(readFileSync(join(clips, file), 'utf8'));
const names = (kind: string) => schemasListed.filter((s) => s.kind === kind).map(({ name }) => name);

/** Whether a value is valid by the text of a JSON Schema, as another reader of it understands it. */
async function valid(name: string, value: unknown): Promise<boolean> {
  const text = JSON.stringify(await jsonSchemaNamed(name));
  return z.fromJSONSchema(JSON.parse(text)).safeParse(JSON.parse(JSON.stringify(value))).success;
}

type Node = {
  properties?: Record<string, Node>;
  items?: Node;
  additionalProperties?: Node;
  anyOf?: Node[];
  oneOf?: Node[];
  description?: string;
};

/** The ways to fields that say nothing of themselves. */
function undescribed(node: Node, path: string): string[] {
  const fields = Object.entries(node.properties ?? {});
  return [
    ...fields.flatMap(([name, field]) => [
      ...(field.description === undefined ? [`${path}.${name}`] : []),
      ...undescribed(field, `${path}.${name}`),
    ]),
    ...[node.items, node.additionalProperties, ...(node.anyOf ?? []), ...(node.oneOf ?? [])].flatMap(
      (inner) => (inner ? undescribed(inner, path) : []),
    ),
  ];
}

it.each(schemasListed)('$name has a title, a description and no more than its fields', async (listed) => {
  const schema = await jsonSchemaNamed(listed.name);
  expect(schema).toMatchObject({
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    title: listed.title,
    description: listed.about,
    type: 'object',
    additionalProperties: false,
  });
  expect(schema).not.toHaveProperty('$id');
});

it.each(names('file'))('every field of %s says what it is', async (name) => {
  expect(undescribed((await jsonSchemaNamed(name)) as Node, name)).toEqual([]);
});

describe('what a file may hold', () => {
  const settings = { version: 1, controls: { sensitivity: 7 } };
  it.each<[string, unknown]>([
    ['clip', { version: 1, frames: 'frames/*.jpg', times: [0, '0:00.2', 0.4] }],
    ['clip', { version: 1, frames: 'a.mp4', start: '2026-05-04T06:10:00+01:00', conditions: { wind: 2 } }],
    ['labels', { version: 1, visits: [{ start: '0:12.4', end: 19, box: [0.1, 0.2, 0.3, 0.2] }] }],
    ['labels', { version: 1, visits: [], ignored: [{ start: 0, end: '1:02:03.5', why: 'setting up' }] }],
    ['camera', defaultCamera],
    ['camera', { version: 1, analysis: { width: 9, height: 9, rate: 5 }, reference: { kind: 'previous' } }],
    ['settings', settings],
    ['suite', { version: 1, clips: ['calm', { clip: 'windy', limits: { recall: 0.6 } }], settings }],
    ['suite', read('suite/suite.json')],
  ])('%s: %j', async (name, value) => {
    expect(await valid(name, value)).toBe(true);
    expect(await valid(name, { ...(value as object), $schema: `./${name}.schema.json` })).toBe(true);
  });

  it.each(readdirSync(clips).filter((file) => file.endsWith('.json')))('scene: %s', async (file) => {
    expect(await valid('scene', read(file))).toBe(true);
  });

  it.each<[string, unknown]>([
    ['clip', { version: 1, frames: 'frames/*.jpg', times: ['0:75'] }],
    ['clip', { version: 1 }],
    ['labels', { version: 1, visits: [{ start: '12.4', end: 19 }] }],
    ['labels', { version: 1, visits: [{ start: -1, end: 19 }] }],
    ['labels', { version: 1, visits: [{ start: 1, end: 19, type: 'bird' }] }],
    ['labels', { version: 1, visits: [{ start: 1, end: 19, box: [0, 0, 1] }] }],
    ['labels', { version: 1, visits: [], $schema: 7 }],
    ['camera', { ...defaultCamera, shuterLag: 1 }],
    ['settings', { version: 2 }],
    ['suite', { version: 1, clips: [], settings: 'now.json' }],
    ['scene', { ...read('log-pile-calm.json'), site: 'moon' }],
  ])('and what not, %s: %j', async (name, value) => {
    expect(await valid(name, value)).toBe(false);
  });
});

it('each verb that prints a document has a schema of it', () => {
  expect(names('document')).toEqual([
    'replay',
    'tune',
    'diagnose',
    'check',
    'weather',
    'plan',
    'fit',
    'budget',
    'size',
    'evening',
    'labels-export',
    'labels-import',
    'kept',
    'fleet-submit',
    'fleet-work',
    'fleet-status',
    'add',
    'completion',
    'open',
  ]);
  expect(names('file')).toEqual([
    'clip',
    'labels',
    'camera',
    'settings',
    'project',
    'suite',
    'accepted',
    'scene',
  ]);
});

it('a name that is none is refused with the nearest', async () => {
  await expect(jsonSchemaNamed('lables')).rejects.toThrow(
    /^schema: expected one of clip, labels, .*open, found 'lables' \(did you mean 'labels'\?\)$/,
  );
  await expect(jsonSchemaNamed('toString')).rejects.toThrow(/found 'toString'/);
});
