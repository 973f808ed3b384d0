import { describe, expect, it } from 'vitest';
import { tableOf } from '../../src/jobs/plan/read-forecast.js';
import { forecastOf, GUST_FACTOR } from '../../src/plan/forecast.js';

const read = (text: string) => forecastOf(tableOf(text, 'week.csv'), 'week.csv');
const rows = (...lines: string[]) => read(['time,wind,gust,rain,cloud', ...lines].join('\n'));
const at = (hour: number) => `2027-05-04T${String(hour).padStart(2, '0')}:00:00+01:00`;
const said = (run: () => unknown): string => {
  try {
    run();
  } catch (error) {
    return (error as Error).message;
  }
  return 'nothing was wrong';
};

describe('a forecast', () => {
  it('is read hour by hour, in Beaufort numbers', () => {
    const {
      rows: read,
      step,
      notes,
    } = rows(`${at(6)},5.5,,0.2,40`.replace(',,', ',5.5,'), `${at(7)},0,0,0,100`);
    expect(step).toBe(1);
    expect(notes).toEqual([]);
    expect(read[0]).toMatchObject({ rain: 0.2, cloud: 0.4 });
    expect(read[1]).toMatchObject({ wind: 0, rain: 0, cloud: 1 });
  });

  it.each([
    // The lower and upper limits at 10 m, WMO No. 8, Guide to Instruments and Methods of Observation, wind chapter.
    [3, 3.4, 5.4],
    [4, 5.5, 7.9],
    [5, 8.0, 10.7],
    [6, 10.8, 13.8],
    [7, 13.9, 17.1],
    [8, 17.2, 20.7],
  ])('takes Beaufort %i from %f to %f m/s', (number, low, high) => {
    const { rows: read } = rows(`${at(6)},${low},0,0,0`, `${at(7)},${high},0,0,0`);
    expect(read.map(({ wind }) => Math.round(wind))).toEqual([number, number]);
  });

  it('counts a gust as the mean wind that brings it along, where that is more', () => {
    const [calm, gusty] = rows(`${at(6)},6,7,0,0`, `${at(7)},2,16.5,0,0`).rows;
    const mean = read(`time,wind\n${at(6)},6\n${at(7)},${16.5 / GUST_FACTOR}`).rows;
    expect(calm!.wind).toBe(mean[0]!.wind);
    expect(gusty!.wind).toBeCloseTo(mean[1]!.wind, 9);
    expect(GUST_FACTOR).toBeCloseTo(1 + 3 * 0.217, 2);
  });

  it('takes rows of three hours, a beaufort column, units in brackets, a byte order mark, CRLF and one row', () => {
    expect(read(`time,beaufort\n${at(6)},4\n${at(9)},5`)).toMatchObject({
      step: 3,
      rows: [{ wind: 4 }, { wind: 5 }],
    });
    expect(read(`Time,Wind (m/s)\r\n${at(6)},4\r\n`).rows).toHaveLength(1);
  });

  it('takes rain in mm of three hours as what falls in them, and says so', () => {
    const three = `${at(6)},1,6\n${at(9)},1,0`;
    const sum = read(`time,wind,rain (mm)\n${three}`);
    expect(sum.rows[0]!.rain).toBe(2);
    expect(sum.notes.join()).toMatch(/what falls in 3 hours/);
    for (const column of ['rain', 'rain (mm/h)']) {
      expect(read(`time,wind,${column}\n${three}`).rows[0]!.rain).toBe(6);
    }
    expect(read(`time,wind,rain (mm)\n${at(6)},1,6\n${at(7)},1,0`).rows[0]!.rain).toBe(6);
  });

  it('notes wind that is hardly in m/s, and gusts below the wind', () => {
    const speeds = (of: number[]) => rows(...of.map((speed, h) => `${at(6 + h)},${speed},80,0,0`)).notes;
    expect(speeds([5, 33, 5]).join()).toMatch(/wind of 33 m\/s, a hurricane, in line 3.*km\/h/);
    expect(speeds([14, 18, 5]).join()).toMatch(/near gale or more in 2 of 3 rows/);
    expect(speeds([14, 5, 5])).toEqual([]);
    expect(rows(`${at(6)},4,4,0,0`, `${at(7)},6,5,0,0`).notes).toEqual([
      expect.stringMatching(/gust: less than the wind in 1 row, first in line 3/),
    ]);
  });

  it('names rows that changed places as such, and no rows as missing', () => {
    const swapped = [0, 6, 3, 9].map((hour) => `${at(hour)},1,2,0,0`);
    expect(said(() => rows(...swapped))).toMatch(
      /line 4 \(row 3\): expected times that rise.*put the rows in order/,
    );
  });

  it.each([
    ['9999-12-31T23:00:00Z', /line 2 \(row 1\): time: expected a year from 1900 to 2999/],
    ['2027-05-04T06:00:00+01:99', /time that there are/],
  ])('refuses the time %s', (time, expected) => {
    expect(said(() => read(`time,wind\n${time},1`))).toMatch(expected);
  });

  it('asks about km/h only of wind', () => {
    expect(said(() => rows(`${at(6)},1,2,0,150`))).toMatch(/from 0 to 100, found 150$/);
    expect(said(() => rows(`${at(6)},90,2,0,15`))).toMatch(/km\/h/);
  });

  it('notes columns that it does not know, and what it takes for those left out', () => {
    expect(read(`time,wind,pressure\n${at(6)},4,1013`).notes).toEqual([
      expect.stringContaining('"pressure"'),
      expect.stringContaining("'cloud'"),
      expect.stringContaining("'rain'"),
    ]);
  });

  it.each([
    ['', /expected a forecast, found an empty file/],
    ['time,wind\n', /expected a row for each hour/],
    ['time;wind\n1;2', /line 1: expected commas .*semicolons/],
    ['tiem,wind\n1,2', /column time .*"tiem".*did you mean 'time'/],
    [`time\n${at(6)}`, /column wind \(m\/s\) or beaufort/],
    [`time,wind (km/h)\n${at(6)},12`, /line 1: column "wind \(km\/h\)": expected wind in m\/s/],
    [`time,wind,beaufort\n${at(6)},1,1`, /found both/],
    [`time,wind,wind\n${at(6)},1,1`, /one column wind, found it twice/],
    [`time,wind\n${at(6)},2,5`, /line 2 \(row 1\): expected 2 cells .*found 3.*point/],
    [`time,wind\n${at(6)},"2,5"`, /wind: expected a number \(m\/s\), found "2,5"; write 2.5/],
    [`time,wind\n${at(6)},`, /wind: expected a number \(m\/s\), found nothing/],
    [`time,wind\n${at(6)},NaN`, /found "NaN"/],
    [`time,wind\n${at(6)},0x10`, /found "0x10"/],
    [`time,wind\n${at(6)},-1`, /from 0 to 45, found -1$/],
    [`time,wind\n${at(6)},60`, /found 60; is it in another unit, such as km\/h/],
    [`time,beaufort\n${at(6)},13`, /Beaufort numbers from 0 to 12, found 13/],
    [
      `time,wind,cloud\n${at(6)},1,0.4\n${at(7)},1,1`,
      /line 2 \(row 1\): cloud: expected % .*multiply it by 100/,
    ],
    ['time,wind\n2027-05-04T06:00:00,1', /expected a zone behind the time/],
    ['time,wind\n4 May,1', /expected RFC 3339 with a zone/],
    ['time,wind\n2027-02-30T06:00:00Z,1', /a day and a time that there are/],
    [
      `time,wind\n${at(6)},1\n${at(7)},1\n${at(9)},1`,
      /line 4 \(row 3\): expected a row every hour, found .* 2 hours after/,
    ],
    [
      `time,wind\n${at(6)},1\n${at(9)},1\n${at(10)},1`,
      /line 4 \(row 3\): expected a row every 3 hours, .*1 hours? after/,
    ],
    [
      `time,wind\n${at(6)},1\n2027-05-04T06:30:00+01:00,1`,
      /every hour, or every three, found .* 30 minutes after/,
    ],
    [`time,wind\n${at(6)},1\n${at(5)},1`, /expected times that rise/],
    [`time,wind\n${at(6)},1\n2027-05-04T05:00:00Z,1`, /each time once.*instant of line 2/],
    [`time,wind\n${at(6)},"1`, /line 2: expected CSV/],
    [`time,wind\n${`${at(6)},1\n`.repeat(745)}`, /at most 744 rows/],
  ])('refuses %j in one line', (text, expected) => {
    const message = said(() => read(text));
    expect(message).toMatch(expected);
    expect(message).toMatch(/^week\.csv: /);
    expect(message).not.toContain('\n');
  });

  it('tells the line of the file where empty lines stand between', () => {
    expect(said(() => read(`time,wind\n\n${at(6)},1\n\n${at(7)},x`))).toMatch(/line 5 \(row 2\)/);
  });
});
