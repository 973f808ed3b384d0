import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { camtrapDp } from '../../../src/clip/exchange/camtrap/camtrap.js';
import type { Wanted } from '../../../src/clip/exchange/format.js';
import { folderOf, wanted } from './made.js';

const HEAD =
  'observationID,deploymentID,mediaID,eventID,eventStart,eventEnd,observationLevel,observationType,cameraSetupType,scientificName,count,sex,bboxX,bboxY,bboxWidth,bboxHeight';
const START = '2026-05-04T06:10:00+01:00';
/** A time so many seconds after the clip's start, in UTC. */
const at = (seconds: number) =>
  new Date(Date.parse(START) + seconds * 1000).toISOString().replace('.000', '');

interface Given {
  deployment?: string;
  media?: string;
  event?: string;
  level?: string;
  type?: string;
  setup?: string;
  name?: string;
  count?: string;
  sex?: string;
  box?: string;
}
let rows = 0;
const row = (
  start: number,
  end: number,
  {
    deployment = 'd',
    media = '',
    event = '',
    level = 'event',
    type = 'animal',
    setup = '',
    ...g
  }: Given = {},
) =>
  `o${rows++},${deployment},${media},${event},${at(start)},${at(end)},${level},${type},${setup},${g.name ?? ''},${g.count ?? ''},${g.sex ?? ''},${g.box ?? ',,,'}`;

const observations = (...lines: string[]) => `${[HEAD, ...lines].join('\n')}\n`;
const read = (text: string, more: Partial<Wanted> = {}) =>
  camtrapDp.read(
    join(folderOf({ 'observations.csv': text }), 'observations.csv'),
    wanted({ start: START, ...more }),
  );
const visits = async (...lines: string[]) => (await read(observations(...lines))).labels.visits;

describe('rows of other programs', () => {
  it('are visits with their scientific names and counts', async () => {
    expect(await visits(row(10, 14, { name: 'Erithacus rubecula', count: '2' }))).toEqual([
      { start: 10, end: 14, type: 'animal', name: 'Erithacus rubecula', count: 2 },
    ]);
  });

  it('of one event, type and name are one visit, the counts of its sexes and ages added up', async () => {
    const of = { event: 'e1', name: 'Gallinula chloropus' };
    expect(
      await visits(
        row(10, 14, { ...of, count: '1', sex: 'female' }),
        row(10, 14, { ...of, count: '3' }),
        row(10, 14, { event: 'e1', type: 'human' }),
        row(30, 34, { event: 'e2', name: 'Gallinula chloropus' }),
      ),
    ).toEqual([
      { start: 10, end: 14, type: 'animal', name: 'Gallinula chloropus', count: 4 },
      { start: 10, end: 14, type: 'human' },
      { start: 30, end: 34, type: 'animal', name: 'Gallinula chloropus' },
    ]);
  });

  it('that begin and end in one second last as long as it', async () => {
    expect(await visits(row(10, 10))).toEqual([{ start: 10, end: 11, type: 'animal' }]);
  });

  it('of pictures of one event are one visit, and their boxes the least that holds all', async () => {
    const of = { event: 'e1', level: 'media' };
    const [visit, ...others] = await visits(
      row(10, 10, { ...of, media: 'm1', count: '1', box: '0.1,0.2,0.2,0.2' }),
      row(10, 10, { ...of, media: 'm1', count: '1', box: '0.3,0.2,0.2,0.2' }),
      row(13, 13, { ...of, media: 'm2', count: '1', box: '0.2,0.1,0.2,0.2' }),
    );
    expect(others).toEqual([]);
    expect(visit).toMatchObject({ start: 10, end: 14, count: 2 });
    for (const [i, side] of [0.1, 0.1, 0.4, 0.3].entries()) expect(visit!.box![i]).toBeCloseTo(side, 9);
  });

  it('of pictures give their event its box, and are no visit beside it', async () => {
    expect(
      await visits(
        row(10, 14, { event: 'e1' }),
        row(11, 11, { event: 'e1', level: 'media', media: 'm1', box: '0.1,0.2,0.2,0.2' }),
      ),
    ).toEqual([{ start: 10, end: 14, type: 'animal', box: [0.1, 0.2, 0.2, 0.2] }]);
  });

  it('of pictures without an event are one visit as long as no more than the gap lies between them', async () => {
    const media = { level: 'media' };
    const lines = [row(2, 2, media), row(10, 10, media), row(40, 40, media)];
    expect(await visits(...lines)).toMatchObject([
      { start: 2, end: 11 },
      { start: 40, end: 41 },
    ]);
    const { labels } = await read(observations(...lines), { gap: 5 });
    expect(labels.visits).toHaveLength(3);
  });

  it('that are blank are time looked through, and setting up counts neither way', async () => {
    const { labels, notes } = await read(
      observations(
        row(0, 5, { type: 'human', setup: 'setup' }),
        row(8, 20, { type: 'blank' }),
        row(25, 27),
        row(50, 55, { type: 'unclassified' }),
      ),
    );
    expect(labels).toEqual({
      version: 1,
      // No more than the gap of 10 s lies between blank and visit.
      reviewed: [{ start: 8, end: 27 }],
      visits: [
        { start: 25, end: 27, type: 'animal' },
        { start: 50, end: 55, type: 'unclassified' },
      ],
      ignored: [{ start: 0, end: 5, why: 'setting up' }],
    });
    expect(notes.join()).toContain('--all-reviewed');
    const all = await read(observations(row(25, 27)), { allReviewed: true });
    expect(all.labels.reviewed).toBeUndefined();
  });

  it('outside the clip are left out and counted, those across its ends cut', async () => {
    const { labels, outside, cut } = await read(
      observations(row(-30, -20), row(-5, 5), row(55, 70), row(60, 61), row(-90, 900, { type: 'human' })),
    );
    expect({ outside, cut }).toEqual({ outside: 2, cut: 3 });
    expect(labels.visits).toEqual([
      { start: 0, end: 5, type: 'animal' },
      { start: 0, end: 60, type: 'human' },
      { start: 55, end: 60, type: 'animal' },
    ]);
  });

  it('say what labels have no place for', async () => {
    const { notHeld } = await read(observations(row(1, 2, { sex: 'female' }), row(3, 4, { sex: 'male' })));
    expect(notHeld).toEqual([{ what: 'sex', count: 2, kept: null, says: 'sex of 2 rows' }]);
  });

  it.each([
    ['with semicolons', (text: string) => text.replaceAll(',', ';')],
    [
      'with tabs, CRLF and a mark at its start',
      (text: string) => `\ufeff${text.replaceAll(',', '\t').replaceAll('\n', '\r\n')}`,
    ],
    [
      'with columns the other way round',
      (text: string) =>
        text
          .split('\n')
          .filter((line) => line !== '')
          .map((line) => line.split(',').reverse().join(','))
          .join('\n'),
    ],
    ['with zones without a colon and fractions', (text: string) => text.replaceAll('Z,', '.0+0000,')],
  ])('are read %s', async (_, change) => {
    const text = observations(row(10, 14, { name: 'Turdus merula' }));
    expect((await read(change(text))).labels.visits).toEqual([
      { start: 10, end: 14, type: 'animal', name: 'Turdus merula' },
    ]);
  });
});

describe('which deployment', () => {
  const deployments = (...lines: string[]) =>
    `deploymentID,locationName,deploymentStart,deploymentEnd\n${lines.join('\n')}\n`;
  const packageOf = (list: string) =>
    folderOf({
      'datapackage.json': JSON.stringify({
        resources: [
          { name: 'observations', path: 'observations.csv' },
          { name: 'deployments', path: 'deployments.csv' },
        ],
      }),
      'deployments.csv': list,
      'observations.csv': observations(
        ...['a', 'b', 'c'].map((deployment, i) => row(10 * i, 10 * i + 2, { deployment })),
      ),
    });
  const here = `${START},2026-05-04T09:00:00+01:00`;
  const before = '2026-05-01T06:00:00+01:00,2026-05-02T06:00:00+01:00';
  const chosen = async (list: string, more: Partial<Wanted> = {}) =>
    (await camtrapDp.read(packageOf(list), wanted({ start: START, ...more }))).deployment;

  it('is the one named, that of the site, or that of the time', async () => {
    expect(await chosen(deployments(`a,log pile,${here}`, `b,log pile,${here}`), { deployment: 'b' })).toBe(
      'b',
    );
    expect(await chosen(deployments(`a,log pile,${here}`, `b,pond,${here}`))).toBe('a');
    expect(await chosen(deployments(`a,log pile,${before}`, `b,log pile,${here}`))).toBe('b');
    expect(await chosen(deployments(`a,pond,${before}`, `b,hedge,${here}`))).toBe('b');
    expect(await chosen(deployments(`c,pond,${here}`))).toBe('c');
  });

  it.each<[string, string, Partial<Wanted>, RegExp]>([
    [
      'several fit',
      deployments(`a,log pile,${here}`, `b,log pile,${here}`),
      {},
      /found 2 of its time and site: "a" \("log pile"\), "b".*--deployment/,
    ],
    [
      'none fits',
      deployments(`a,pond,${before}`, `b,hedge,${before}`),
      {},
      /found 2 but none of its time: "a"/,
    ],
    [
      'the name is none',
      deployments(`a,pond,${here}`),
      { deployment: 'z' },
      /--deployment: expected one of .*found "z"; it holds "a"/,
    ],
    [
      'one stands twice',
      deployments(`a,pond,${here}`, `a,pond,${here}`),
      {},
      /line 3: deploymentID: expected each deployment once, found "a" again/,
    ],
    ['there are none', 'deploymentID,deploymentStart,deploymentEnd\n', {}, /it holds no deployment/],
    [
      'its rows are of another time',
      deployments(`b,log pile,${here}`),
      { start: '2026-06-04T06:10:00+01:00' },
      /expected observations while the clip my-clip was recorded.*found none of 1.*mend "start"/,
    ],
    [
      'nothing was observed',
      deployments(`z,log pile,${here}`),
      {},
      /expected observations of the deployment "z", found none; .*--all-reviewed/,
    ],
  ])('is asked for where %s', async (_, list, more, message) => {
    await expect(chosen(list, more)).rejects.toThrow(message);
  });
});

describe('refused, naming file, line and column', () => {
  const good = row(10, 14);
  it.each<[string, string, RegExp]>([
    ['an empty file', '', /observations\.csv: the file is empty; expected the table observations/],
    [
      'a header without a column',
      `${HEAD.replace('eventEnd,', '')}\n${good}`,
      /line 1: expected a column called eventEnd/,
    ],
    [
      'a header with a near miss',
      `${HEAD.replace('observationType', 'observationtype')}\n${good}`,
      /observationType.*did you mean 'observationtype'/,
    ],
    [
      'a column twice',
      `${HEAD.replace('mediaID', 'eventID')}\n${good}`,
      /line 1: expected each column once, found "eventID" twice/,
    ],
    [
      'a row with a cell too many',
      observations(`${good},x`),
      /line 2: expected 16 columns as in the header, found 17/,
    ],
    [
      'a time without its zone',
      observations(good.replace(/Z,/, ',')),
      /line 2: eventStart: time: expected a zone/,
    ],
    [
      'a day that is none',
      observations(good.replace('05-04', '02-30')),
      /line 2: eventStart: time: expected a day and a time that there are/,
    ],
    [
      'an observation twice',
      observations(good, good),
      /line 3: observationID: expected each observation once, found "o\d+" again/,
    ],
    [
      'an end before the start',
      observations(row(14, 10)),
      /line 2: eventEnd: expected a time that is not before eventStart/,
    ],
    [
      'a level that is none',
      observations(row(1, 2, { level: 'evnt' })),
      /observationLevel: expected one of media, event, found "evnt" \(did you mean 'event'/,
    ],
    [
      'setup as a type, which it is not',
      observations(row(1, 2, { type: 'setup' })),
      /observationType: expected one of animal, .*found "setup"/,
    ],
    [
      'no type',
      observations(row(1, 2, { type: '' })),
      /observationType: expected one of animal, .*found nothing/,
    ],
    ['a count that is none', observations(row(1, 2, { count: '1.5' })), /count: expected a whole number/],
    [
      'half a box',
      observations(row(1, 2, { box: '0.1,0.2,,' })),
      /bboxWidth: expected a fraction .*nothing beside its fellows/,
    ],
    [
      'a box in pixels',
      observations(row(1, 2, { box: '10,20,30,40' })),
      /bboxX: expected a fraction of the picture from 0 to 1, found "10"/,
    ],
    [
      'a box off the picture',
      observations(row(1, 2, { box: '0.5,0.2,0.6,0.1' })),
      /bboxWidth: expected a box within the picture, found one that reaches 1\.1/,
    ],
    [
      'rows that are quoted as a whole',
      `${[HEAD, good].map((line) => `"${line}"`).join('\n')}\n`,
      /line 1: expected a column called \w+ID,/,
    ],
    [
      'rows with delimiters of two kinds within quotation marks',
      '"observationID;deploymentID,eventStart"\n',
      /line 1: expected a column called \w+ID,/,
    ],
    [
      'a quotation mark out of place',
      observations(`"a"b,${good}`),
      /line 2: expected .* as CSV, found a quotation mark out of place/,
    ],
    [
      'a quotation mark never closed',
      observations(`"${'x\n'.repeat(800_000)}`),
      /as CSV, found a (row of more than a megabyte|quotation mark out of place)/,
    ],
  ])('%s', async (_, text, message) => {
    await expect(read(text)).rejects.toThrow(message);
  });

  it('bytes that are no UTF-8', async () => {
    const bytes = Buffer.concat([Buffer.from(`${HEAD}\n`), Buffer.from([0xff, 0xfe, 0x2c])]);
    const file = join(folderOf({ 'observations.csv': bytes }), 'observations.csv');
    await expect(camtrapDp.read(file, wanted())).rejects.toThrow(/expected .* as UTF-8 text/);
  });

  it('no start of the clip', async () => {
    await expect(read(observations(good), { start: null })).rejects.toThrow(
      /--start 2026-05-04T06:10:00\+01:00/,
    );
  });

  it.each<[string, object, RegExp]>([
    [
      'no observations',
      { resources: [{ name: 'observation', path: 'a.csv' }] },
      /expected one called "observations", found "observation"/,
    ],
    ['none at all', { resources: [] }, /found none at all/],
    ['no list of them', {}, /datapackage\.json: resources: expected a list in \[ \]/],
    [
      'a way upwards',
      { resources: [{ name: 'observations', path: '../../secret.csv' }] },
      /expected a file beside the descriptor, found "\.\.\/\.\.\/secret\.csv"/,
    ],
    [
      'an absolute path',
      { resources: [{ name: 'observations', path: '/etc/passwd' }] },
      /expected a file beside the descriptor/,
    ],
    [
      'an address',
      { resources: [{ name: 'observations', path: 'https://x.example/o.csv' }] },
      /expected a file beside the descriptor/,
    ],
    [
      'a packed table',
      { resources: [{ name: 'observations', path: 'observations.csv.gz' }] },
      /expected a CSV file, found/,
    ],
    [
      'several parts',
      { resources: [{ name: 'observations', path: ['a.csv', 'b.csv'] }] },
      /found 2 files; join them/,
    ],
    [
      'another encoding',
      { resources: [{ name: 'observations', path: 'a.csv', encoding: 'latin1' }] },
      /expected UTF-8, found the encoding "latin1"/,
    ],
    [
      'a table that is not there',
      { resources: [{ name: 'observations', path: 'a.csv' }] },
      /a\.csv: there is no such file/,
    ],
  ])('a package of %s', async (_, descriptor, message) => {
    const dir = folderOf({ 'datapackage.json': JSON.stringify(descriptor) });
    await expect(camtrapDp.read(dir, wanted())).rejects.toThrow(message);
  });
});
