import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { camtrapDp } from '../../../src/clip/exchange/camtrap/camtrap.js';
import type { Outgoing, Wanted } from '../../../src/clip/exchange/format.js';
import type { Labels } from '../../../src/score/labels.js';
import { faultsOf } from '../../oracle/camtrap.js';
import { anyLabels, folderOf, outgoing, said, texts, wanted } from './made.js';

const write = (labels: Partial<Labels>, more: Partial<Outgoing> = {}) => {
  const written = camtrapDp.write(outgoing(labels, more));
  const files = texts(written);
  const table = (name: string) => parse(files[`${name}.csv`]!, { columns: true }) as Record<string, string>[];
  return { ...written, texts: files, table };
};
const checked = (files: Record<string, string>) =>
  faultsOf({
    deployments: files['deployments.csv']!,
    media: files['media.csv']!,
    observations: files['observations.csv']!,
  });
const back = (files: Record<string, string>, more: Partial<Wanted> = {}) =>
  camtrapDp.read(folderOf(files), wanted(more));

const wren = { start: 12.4, end: 19, type: 'animal', name: 'wren', count: 2 } as const;
const box: [number, number, number, number] = [0.1, 0.2, 0.3, 0.2];

describe('what is written', () => {
  it('is a package whose tables keep to the published rules, whatever the labels say', () => {
    const times = fc.double({ min: 0, max: 60, noNaN: true });
    fc.assert(
      fc.property(anyLabels(times), fc.boolean(), (labels, scientificNames) => {
        expect(checked(write(labels, { scientificNames, contributor: 'a, b' }).texts)).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });

  it('has whole seconds with their zone, rounded outwards', () => {
    const { table, notHeld } = write({ visits: [wren] });
    expect(table('observations')[0]).toMatchObject({
      eventStart: '2026-05-04T06:10:12+01:00',
      eventEnd: '2026-05-04T06:10:20+01:00',
      observationLevel: 'event',
      observationType: 'animal',
      count: '2',
      scientificName: '',
      observationComments: 'labelled as wren',
    });
    expect(table('deployments')).toMatchObject([
      {
        locationName: 'log pile',
        latitude: '51.5',
        longitude: '-3.2',
        deploymentStart: '2026-05-04T06:10:00+01:00',
        deploymentEnd: '2026-05-04T06:11:01+01:00',
        timestampIssues: 'false',
        cameraDelay: '',
      },
    ]);
    // 12.4 s after .25 is .65 past a second, 19 s is .75 before the next.
    expect(notHeld.find(({ what }) => what === 'fractions of a second')).toMatchObject({
      count: 2,
      kept: 'observationTags',
    });
  });

  it('puts a box on the still in the middle of its visit, for it is of one medium', () => {
    const { table } = write({ visits: [{ ...wren, box }] });
    const [event, media] = table('observations');
    expect(event).toMatchObject({ bboxX: '', mediaID: '' });
    // 15.7 s at 5 a second: stills 78 and 79 are equally near.
    expect(media).toMatchObject({
      observationLevel: 'media',
      bboxX: '0.1',
      bboxHeight: '0.2',
      eventID: event!.eventID,
    });
    expect(table('media').find(({ mediaID }) => mediaID === media!.mediaID)!.filePath).toMatch(
      /^my-clip\/frames\/7[89]\.jpg$/,
    );
  });

  it("says setting up as a setup, and other time that does not count as nobody's", () => {
    const { table } = write({
      ignored: [
        { start: 0, end: 5, why: 'setting up' },
        { start: 50, end: 60, why: 'rain on the lens' },
      ],
    });
    expect(table('observations')).toMatchObject([
      { observationType: 'unclassified', cameraSetupType: 'setup' },
      {
        observationType: 'unclassified',
        cameraSetupType: '',
        observationComments: 'not counted: rain on the lens',
      },
    ]);
  });

  it('takes what else it is told: cooldown in whole seconds, height, scientific names', () => {
    const given = outgoing({
      visits: [{ start: 1, end: 2, type: 'animal', name: 'Troglodytes troglodytes' }],
    });
    const clip = { ...given.clip, manifest: { ...given.clip.manifest, scene: { height: 1.2 } } };
    const {
      table,
      notHeld,
      texts: files,
    } = write(given.labels, { clip, cooldown: 2.6, scientificNames: true });
    expect(table('deployments')).toMatchObject([{ cameraDelay: '3', cameraHeight: '1.2' }]);
    expect(table('observations')).toMatchObject([{ scientificName: 'Troglodytes troglodytes' }]);
    expect(JSON.parse(files['datapackage.json']!).taxonomic).toEqual([
      { scientificName: 'Troglodytes troglodytes' },
    ]);
    expect(notHeld.map(({ what }) => what)).toContain('fractions of the cooldown');
  });

  it('names the profile and the three tables, as the published package has them', () => {
    const { profile, resources, spatial } = JSON.parse(write({}).texts['datapackage.json']!);
    expect(profile).toBe('https://raw.githubusercontent.com/tdwg/camtrap-dp/1.0.2/camtrap-dp-profile.json');
    expect(resources.map(({ name, path }: { name: string; path: string }) => [name, path])).toEqual([
      ['deployments', 'deployments.csv'],
      ['media', 'media.csv'],
      ['observations', 'observations.csv'],
    ]);
    expect(spatial.coordinates).toEqual([-3.2, 51.5]);
  });

  it('tells doubts of times, and what a spreadsheet may take for a formula', () => {
    const given = outgoing({});
    const warnings = ["the frames' time stamps hold whole seconds only; 9 of 9 frames share one"];
    const manifest = { ...given.clip.manifest, site: '=cmd' };
    const { table, notes } = write({}, { clip: { ...given.clip, warnings, manifest } });
    expect(table('deployments')).toMatchObject([{ timestampIssues: 'true', locationName: '=cmd' }]);
    expect(notes.join()).toContain('1 cell of text begins with =, +, - or @');
  });

  it('of a video is one medium', () => {
    const given = outgoing({ visits: [{ ...wren, box }] });
    const source = { kind: 'video', file: 'my-clip/recording.mp4' } as Outgoing['clip']['source'];
    const { table, texts: files } = write(given.labels, { clip: { ...given.clip, source } });
    expect(table('media')).toMatchObject([{ filePath: 'my-clip/recording.mp4', fileMediatype: 'video/mp4' }]);
    expect(checked(files)).toEqual([]);
  });

  it.each<[string, Partial<Outgoing>, RegExp]>([
    ['no start', { start: null }, /^my-clip: .*--start 2026-05-04T06:10:00\+01:00/],
    ['no place', { place: null }, /^my-clip: .*--place LATITUDE,LONGITUDE/],
    ['neither', { start: null, place: null }, /--start.*--place/],
    [
      'a path that leads upwards',
      { mediaFolder: 'a..b' },
      /filePath.*found "a\.\.b\/frames\/0\.jpg"; rename/,
    ],
  ])('refuses %s', (_, more, message) => {
    expect(() => write({}, more)).toThrow(message);
  });
});

describe('there and back', () => {
  it('nothing is lost, whatever the labels say', async () => {
    const times = fc.double({ min: 0, max: 60, noNaN: true });
    await fc.assert(
      fc.asyncProperty(anyLabels(times), async (labels) => {
        expect(said(await back(write(labels).texts))).toEqual(said({ labels }));
      }),
      { numRuns: 100 },
    );
  });

  it('what was changed in the columns since counts, not what the tags say', async () => {
    const { texts: files } = write({ visits: [wren], reviewed: [{ start: 0, end: 30 }] });
    const changed = files['observations.csv']!.replace('06:10:12+01:00', '06:10:14+01:00').replace(
      ',animal,,,2',
      ',human,,,3',
    );
    const { labels } = await back({ ...files, 'observations.csv': changed });
    expect(labels).toEqual({
      version: 1,
      reviewed: [{ start: 0, end: 30 }],
      visits: [{ ...wren, start: 13.75, type: 'human', count: 3 }],
    });
  });

  it('from the observations alone brings back the visits, and what lies beside them the rest', async () => {
    const { texts: files } = write({
      visits: [wren],
      mask: [
        [
          [0, 0],
          [1, 0],
          [1, 1],
        ],
      ],
    });
    const whole = join(folderOf(files), 'observations.csv');
    expect((await camtrapDp.read(whole, wanted())).labels).toEqual({
      version: 1,
      visits: [wren],
      mask: [
        [
          [0, 0],
          [1, 0],
          [1, 1],
        ],
      ],
    });
    const alone = join(folderOf({ 'observations.csv': files['observations.csv']! }), 'observations.csv');
    expect((await camtrapDp.read(alone, wanted())).labels).toEqual({
      version: 1,
      // Nothing else tells what was looked through, but where the visit was somebody looked.
      reviewed: [{ start: 12.4, end: 19 }],
      visits: [wren],
    });
  });

  it('nothing is lost of scientific names either, whatever they are', async () => {
    const times = fc.double({ min: 0, max: 60, noNaN: true });
    await fc.assert(
      fc.asyncProperty(anyLabels(times), async (labels) => {
        const read = await back(write(labels, { scientificNames: true }).texts);
        expect(said(read)).toEqual(said({ labels }));
        expect(read.notes.join()).not.toContain('scientificName');
      }),
      { numRuns: 60 },
    );
  });

  it("a name that somebody wrote into the standard's column goes before our tag, and that is said", async () => {
    const { texts: files } = write({ visits: [wren] });
    const named = files['observations.csv']!.replace(',animal,,,2', ',animal,,Erithacus rubecula,2');
    const { labels, notes } = await back({ ...files, 'observations.csv': named });
    expect(labels.visits).toEqual([{ ...wren, name: 'Erithacus rubecula' }]);
    expect(notes).toEqual([
      '1 visit of yours has another name in scientificName, which was taken: "Erithacus rubecula" (was "wren")',
    ]);
  });

  it.each<[string, Partial<Labels>]>([
    ['boxes', { visits: [{ ...wren, box }] }],
    ['time that is ignored all along', { visits: [wren], ignored: [{ start: 0, end: 60 }] }],
    ['what moved', { visits: [wren], causes: [{ start: 50, end: 60, cause: 'wind' }] }],
  ])(
    'visits that all lie outside are refused by how far off they are, whatever lies inside: %s',
    async (_, labels) => {
      const { texts: files } = write(labels);
      // A clock half a minute off: the visit begins 12 s before the clip does.
      const read = back(files, { start: '2026-05-04T06:10:30.250+01:00' });
      await expect(read).rejects.toThrow(
        /found none of \d of the deployment .*: the nearest lies 0:10 before it; mend "start" in clip\.json or --start/,
      );
    },
  );

  it('a package of ours without a row means that nothing was there, which is said', async () => {
    const { texts: files } = write({ visits: [] });
    expect((await back(files)).notes.join()).toContain('no row is of the deployment');
  });
});

it('says how many rows are of a deployment that is not listed, beside those that count', async () => {
  const { texts: files } = write({ visits: [wren, { ...wren, start: 40, end: 44 }] });
  const [head, first, second] = files['observations.csv']!.split('\n') as [string, string, string];
  const stray = second.replace(/^([^,]+),[^,]+/, '$1,another');
  const { labels, notes } = await back({
    ...files,
    'observations.csv': `${[head, first, stray].join('\n')}\n`,
  });
  expect(labels.visits).toHaveLength(1);
  expect(notes).toEqual([
    expect.stringMatching(
      /^1 row was left out, because its deployment is in no row of the table of deployments \(.*line 3: deploymentID: found "another"\)$/,
    ),
  ]);
});

it('is refused where its rows are of a deployment that is not listed: nothing is not read from nothing', async () => {
  const { texts: files } = write({ reviewed: [{ start: 0, end: 30 }], visits: [wren] });
  const id = /^[^,]+/.exec(files['deployments.csv']!.split('\n')[1]!)![0];
  const observations = files['observations.csv']!.replaceAll(id, 'another');
  await expect(back({ ...files, 'observations.csv': observations })).rejects.toThrow(
    /observations\.csv: line 2: deploymentID: found "another", which is in no row of the table of deployments/,
  );
});
