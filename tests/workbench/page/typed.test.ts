import { afterEach, beforeEach, expect, it } from 'vitest';
import { tableOf } from '../../../src/jobs/plan/read-forecast.js';
import { forecastOf } from '../../../src/plan/forecast.js';
import { rfc3339 } from '../../../src/plan/instant.js';
import { csvOf, momentsOf, typedFrom } from '../../../src/workbench/page/views/plan/typed.js';

const zone = process.env.TZ;
beforeEach(() => {
  process.env.TZ = 'Europe/London';
});
afterEach(() => {
  if (zone === undefined) delete process.env.TZ;
  else process.env.TZ = zone;
});

const calm = { beaufort: 2, rain: 0, cloud: 50 };

it('begins at the next full three hours, a day ahead', () => {
  const typed = typedFrom(new Date(2026, 4, 4, 22, 10));
  expect([typed.from, typed.rows.length]).toEqual(['2026-05-05T00:00', 8]);
  expect(typedFrom(new Date(2026, 4, 4, 5, 0)).from).toBe('2026-05-04T06:00');
});

it('what is typed in is a forecast that plan reads, also over the night in which clocks change', () => {
  const rows = [calm, { beaufort: 6, rain: 4, cloud: 95 }, calm];
  const csv = csvOf({ from: '2026-10-24T22:00', rows });
  const read = forecastOf(tableOf(csv, 'typed'), 'typed');
  expect(read.step).toBe(3);
  expect(read.rows.map(({ at, wind, rain, cloud }) => [rfc3339(at), wind, rain, cloud])).toEqual([
    ['2026-10-24T22:00:00+01:00', 2, 0, 0.5],
    ['2026-10-25T01:00:00+01:00', 6, 4, 0.95],
    ['2026-10-25T03:00:00Z', 2, 0, 0.5],
  ]);
});

it('without a moment to begin at there are no rows', () => {
  expect(momentsOf({ from: '', rows: [calm] })).toEqual([]);
  expect(csvOf({ from: '', rows: [calm] })).toBe('time,beaufort,rain (mm/h),cloud\n');
});
