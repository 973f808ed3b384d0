import { parseHTML } from 'linkedom';
import { expect, it } from 'vitest';
import { fleetReport } from '../../src/report/fleet-report.js';

const done = { jobs: 2, ended: 2, running: 0, secondsLeft: 0 };
const run = {
  run: 'suite-check-0',
  verb: 'check',
  source: 'suite.json',
  state: 'ended' as const,
  code: 2,
  message: 'clips/birch: no picture',
  document: null,
  progress: done,
  troubles: [{ message: 'clips/birch: no picture' }, { message: 'clips/elder: was <changed>' }],
};
const counts = { visits: 4, missed: 1, falseTriggers: 6, watchedHours: 2 };

it('tells of each site what it is of and what changed, and of each run what to look at, each once', () => {
  const site = { site: '<b>pile</b>', verb: 'check', source: 'suite.json', change: 'worse', progress: done };
  const page = fleetReport({
    runs: [run],
    sites: [{ ...site, before: counts, now: { ...counts, missed: 2 } }],
  });
  const { document } = parseHTML(page);
  const cells = [...document.querySelectorAll('tbody tr > *')].map(({ textContent }) => textContent);
  expect(cells).toEqual(['<b>pile</b>check suite.json', 'worse', '1 of 4 → 2 of 4', '3 → 3', 'done']);
  expect(document.querySelectorAll('tbody tr > *').length).toBe(document.querySelectorAll('thead th').length);
  expect(document.querySelector('section p')!.textContent).toBe('1 worse.');
  expect([...document.querySelectorAll('li')].map(({ textContent }) => textContent)).toEqual([
    'clips/elder: was <changed>',
  ]);
  expect(page.split('clips/birch: no picture').length).toBe(2);
});
