import { parseHTML } from 'linkedom';
import { expect, test } from 'vitest';
import { dialFigure } from '../../src/report/figures/dial.js';
import { frontFigure } from '../../src/report/figures/front.js';
import { type IntervalRow, intervals } from '../../src/report/figures/intervals.js';
import { strip } from '../../src/report/figures/strip.js';
import type { DialShown } from '../../src/words/dials-shown.js';
import { expectAsDrawn } from '../support/drawing.js';
import { clip, dials, hour, tuned, unlabelled } from './example.js';

const wide = Array.from({ length: 64 }, (_, i) => i + 1);
const many: DialShown = { name: 'gain', sets: 'threshold', positions: wide, values: wide, chosen: 23 };
const rows: IntervalRow[] = [
  { of: 'these clips', between: { value: 0.75, low: 0.56, high: 0.88 } },
  { of: 'unseen footage', between: { value: 0.7, low: 0.5, high: 0.85 } },
];
const untold: IntervalRow[] = [
  { of: 'these clips', between: { value: 4, low: 1.4, high: 9.2 } },
  { of: 'unseen footage', between: null },
];
const same = { ...tuned, best: tuned.recommended };
const dependent = { ...clip, area: { kind: 'not measured', why: 'it depends on the triggers' } } as const;

const figures: Record<string, () => string> = {
  'strip-wide': () => strip(clip, 'strip', 'wide'),
  'strip-narrow': () => strip({ ...clip, seconds: 700 }, 'strip', 'narrow'),
  'strip-unlabelled': () => strip(unlabelled, 'strip', 'wide'),
  'strip-without-area': () => strip(dependent, 'strip', 'wide'),
  front: () => frontFigure(tuned, 'front'),
  'front-recommended-is-best': () => frontFigure(same, 'front'),
  'sure-share': () => intervals(rows, { kind: 'share' }, 'Visits caught', 'sure'),
  'sure-rate-too-little-to-tell': () =>
    intervals(untold, { kind: 'rate', allowed: 6 }, 'False triggers an hour', 'sure'),
  dial: () => dialFigure(dials[0] as DialShown, 'dial'),
  'dial-many-positions': () => dialFigure(many, 'dial'),
  'dial-between-positions': () => dialFigure({ ...many, chosen: null }, 'dial'),
};

test.each(Object.entries(figures))('%s is drawn as in its snapshot', (name, draw) =>
  expectAsDrawn(draw(), name),
);

test.each(Object.entries(figures))(
  '%s has a role, and a title and description that it points to',
  (_, draw) => {
    const svg = draw();
    const [, title, description] = /aria-labelledby="(\S+) (\S+)"/.exec(svg) ?? [];
    expect(svg).toContain('role="img"');
    expect(svg).toMatch(
      new RegExp(`<title id="${title}">[^<]+</title><desc id="${description}">[^<]+</desc>`),
    );
  },
);

test('each verdict has a shape of its own on the strip', () => {
  const shapes = (['true', 'false', 'ignored', null] as const).map((verdict) => {
    const triggers = [{ time: 40, photos: [], verdict, visit: null }];
    const { document } = parseHTML(strip({ ...clip, triggers }, 's', 'wide'));
    const mark = [...document.querySelectorAll('title')].find((title) => title.textContent === '0:40.0');
    const shape = mark?.parentElement;
    return shape && `${shape.tagName} ${shape.getAttribute('d')}`;
  });
  expect(new Set(shapes).size).toBe(4);
  expect(shapes).not.toContain(undefined);
});

test('the front recommends nothing where there is too little to tell: it names choice A', () => {
  for (const result of [tuned, same]) {
    const svg = frontFigure({ ...result, tells: 'too little' }, 'front');
    expect(svg).not.toMatch(/>[^<]*recommended/i);
    expect(svg).toMatch(/<desc [^>]*>Choice A: /);
    expect(svg).toMatch(/>choice A(, best here)?<\/text>/);
  }
});

test('a name of a visit cannot break out of the figure', () => {
  const labels = {
    ...clip.labels,
    visits: [{ start: 5, end: 9, name: '</svg><b title="x">', caught: true }],
  };
  const svg = strip({ ...clip, labels } as typeof clip, 's', 'wide');
  expect(svg.match(/<\/svg>/g)).toHaveLength(1);
  expect(svg).not.toContain('<b ');
});

test.each(['wide', 'narrow'] as const)('the %s strip of a restless hour takes under 80 KB', (format) => {
  expect(strip(hour(), 'hour', format).length).toBeLessThan(80_000);
});
