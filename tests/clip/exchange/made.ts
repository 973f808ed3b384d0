import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { onTestFinished } from 'vitest';
import type { Incoming, Outgoing, Wanted, Written } from '../../../src/clip/exchange/format.js';
import { causeNames, type Labels, visitTypes } from '../../../src/score/labels.js';

/** Stills at 5 a second, from a start that is no whole second. */
export const SECONDS = 60;
export const START = '2026-05-04T06:10:00.250+01:00';
const KEY = '9ce5f1ec4d5d30cc0123456789abcdef';

export function outgoing(labels: Partial<Labels>, more: Partial<Outgoing> = {}): Outgoing {
  const times = Float64Array.from({ length: 5 * SECONDS }, (_, i) => i / 5);
  const names = Array.from(times, (_, i) => `${i}.jpg`);
  return {
    clip: {
      dir: 'my-clip',
      manifest: { version: 1, frames: 'frames/*.jpg', rate: 5, site: 'log pile' },
      times,
      seconds: SECONDS,
      source: { kind: 'stills', folder: 'my-clip/frames', names },
      contentKey: KEY,
      warnings: [],
    },
    labels: { version: 1, visits: [], ...labels },
    name: 'my-clip',
    mediaFolder: 'my-clip',
    start: START,
    place: { latitude: 51.5, longitude: -3.2 },
    cooldown: null,
    scientificNames: false,
    contributor: null,
    now: new Date('2026-05-05T10:00:00Z'),
    ...more,
  };
}

export function wanted(more: Partial<Wanted> = {}): Wanted {
  const { clip } = outgoing({});
  return { clip, start: START, deployment: null, gap: 10, allReviewed: false, ...more };
}

/** All files as they would be written, by their names. */
export function texts({ files }: Written): Record<string, string> {
  return Object.fromEntries(files.map(({ name, pieces }) => [name, [...pieces()].join('')]));
}

/** A new folder with these files, gone after the test. */
export function folderOf(files: Record<string, string | Uint8Array>): string {
  const dir = mkdtempSync(join(tmpdir(), 'exchange-'));
  onTestFinished(() => rmSync(dir, { recursive: true }));
  for (const [name, text] of Object.entries(files)) writeFileSync(join(dir, name), text);
  return dir;
}

/** What stands in labels that say the same, whether lists are left out or empty. */
export function said({ labels }: Pick<Incoming, 'labels'>): object {
  const { ignored = [], causes = [], mask = [], foliage = [], ...rest } = labels;
  return { ...rest, ignored, causes, mask, foliage };
}

/** What people may call an animal, and what a format may trip over. */
const text = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 12 }),
  fc.string({ unit: 'grapheme', maxLength: 12 }),
  fc.constantFrom(
    'wren',
    'a, b',
    'the "big" one',
    'two\nlines',
    'a\r\n\r\nb',
    'a|b:c',
    'name:x|perchmark:cause',
    '00:01.000 --> 00:02.000',
    '-->',
    '<i>x</i> &amp; &lt;',
    '=cmd|x',
    '%7C%25',
    ' in blanks ',
    'animal',
    'type: human',
    'NOTE',
    '',
    'constructor',
  ),
);
const fraction = fc.double({ min: 0, max: 1, noNaN: true });
const polygon = fc.array(fc.tuple(fraction, fraction), { minLength: 3, maxLength: 4 });

/**
 * Labels of a clip of `SECONDS`, in all that they may say.
 * @param time seconds, before the clip's end
 * @param shortest how long a stretch is at least
 */
export function anyLabels(time: fc.Arbitrary<number>, shortest = 0): fc.Arbitrary<Labels> {
  const stretch = fc
    .tuple(time, time)
    .map(([a, b]) => ({ start: Math.min(a, b), end: Math.max(a, b) }))
    .filter(({ start, end }) => end - start >= shortest && start < SECONDS);
  const box = fc
    .tuple(fraction, fraction, fraction, fraction)
    .map(([x, y, w, h]): [number, number, number, number] => [x, y, w * (1 - x), h * (1 - y)]);
  const visit = fc
    .tuple(
      stretch,
      fc.constantFrom(...visitTypes),
      fc.option(text, { nil: undefined }),
      fc.option(fc.integer({ min: 1, max: 1_000_000 }), { nil: undefined }),
      fc.option(box, { nil: undefined }),
    )
    .map(([s, type, name, count, where]) => ({
      ...s,
      type,
      ...(name !== undefined && { name }),
      ...(count !== undefined && { count }),
      ...(where && { box: where }),
    }));
  const ignored = fc
    .tuple(stretch, fc.option(fc.oneof(text, fc.constant('setting up')), { nil: undefined }))
    .map(([s, why]) => ({ ...s, ...(why !== undefined && { why }) }));
  const cause = fc.tuple(stretch, fc.constantFrom(...causeNames)).map(([s, one]) => ({ ...s, cause: one }));
  return fc
    .record({
      reviewed: fc.option(fc.array(stretch, { maxLength: 3 }), { nil: undefined }),
      visits: fc.array(visit, { maxLength: 5 }),
      ignored: fc.array(ignored, { maxLength: 3 }),
      causes: fc.array(cause, { maxLength: 3 }),
      mask: fc.array(polygon, { maxLength: 2 }),
      foliage: fc.array(polygon, { maxLength: 2 }),
    })
    .map(({ reviewed, ...lists }) => ({ version: 1, ...(reviewed && { reviewed }), ...lists }));
}
