import { expect, test } from 'vitest';
import type { Labels } from '../../src/score/labels.js';
import { checkLabels } from '../../src/score/labels-check.js';

const visit = (start: number, end: number) => ({ start, end, type: 'animal' as const });
const check = (labels: Omit<Labels, 'version'>) => checkLabels({ version: 1, ...labels }, 60, 'labels.json');

test('cuts a visit that ends up to a second past the clip', () => {
  expect(check({ visits: [visit(50, 61)] }).labels.visits[0]).toEqual(visit(50, 60));
});

test('refuses a visit that ends farther past it, naming place and length', () => {
  expect(() => check({ visits: [visit(1, 2), visit(50, 61.1)] })).toThrow(
    /^labels\.json: visits\[1\]\.end: expected a time within the clip's length, 1:00\.0 \(60 s\), found 1:01\.1 \(61\.1 s\)/,
  );
});

test('refuses a visit that starts at the end of the clip', () => {
  expect(() => check({ visits: [visit(60, 60.5)] })).toThrow(/visits\[0\]\.start: expected a time before/);
});

test('cuts other stretches, and warns when more than a second goes', () => {
  const { labels, warnings } = check({
    visits: [],
    reviewed: [{ start: 0, end: 60.9 }],
    ignored: [
      { start: 30, end: 100, why: 'setting up' },
      { start: 70, end: 80 },
    ],
  });
  expect(labels.reviewed).toEqual([{ start: 0, end: 60 }]);
  expect(labels.ignored).toEqual([{ start: 30, end: 60, why: 'setting up' }]);
  expect(warnings).toEqual([
    expect.stringMatching(/^labels\.json: ignored\[0\]\.end: 1:40\.0 \(100 s\) is past/),
  ]);
});

test('refuses polygons in pixels', () => {
  const mask: Labels['mask'] = [
    [
      [0, 0],
      [1, 0],
      [1, 240],
    ],
  ];
  expect(() => check({ visits: [], mask })).toThrow(/mask\[0\]\[2\]\[1\]: expected a fraction of the frame/);
});

test.each([
  [
    [0.9, 0, 0.2, 1],
    /visits\[0\]\.box: expected a box within the frame, .* found x 0\.9 and width 0\.2, which reach 1\.1;/,
  ],
  [[0, 0.5, 1, 0.75], /found y 0\.5 and height 0\.75, which reach 1\.25;/],
] as const)('refuses a box that reaches off the frame: %j', (box, told) => {
  expect(() => check({ visits: [{ ...visit(1, 2), box: [...box] }] })).toThrow(told);
});

test.each([[[0, 0, 1, 1]], [[0.7, 0.1, 0.3, 0.9]], [[0.3333, 0, 0.6668, 1]]] as const)(
  'takes a box up to the edge of the frame, as exactly as fractions are written: %j',
  (box) => {
    expect(check({ visits: [{ ...visit(1, 2), box: [...box] }] }).warnings).toEqual([]);
  },
);

test('refuses more visits at one moment than anyone can tell apart', () => {
  const crowd = Array.from({ length: 1001 }, (_, i) => visit(i / 100, 20 + i / 100));
  expect(() => check({ visits: crowd })).toThrow(
    /^labels\.json: visits: expected at most 1000 at one moment, found more at 0:10\.0 \(10 s\); give a flock/,
  );
  expect(check({ visits: crowd.slice(1) }).warnings).toEqual([]);
});
