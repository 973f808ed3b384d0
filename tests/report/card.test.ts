import { parseHTML } from 'linkedom';
import { expect, test } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import type { Settings } from '../../src/camera/settings.js';
import type { SiteResult } from '../../src/jobs/tune.js';
import { type Card, cardHtml } from '../../src/report/card.js';
import { expectedIn } from '../../src/report/card-of.js';
import { noCounts, scoreOf } from '../../src/score/score.js';
import type { Choice } from '../../src/tune/site-result.js';
import { rowsOf, rowsToSet } from '../../src/words/weather-rows.js';

function choice(settings: Settings): Choice {
  return {
    settings: { version: 1, ...settings },
    controls: {},
    score: scoreOf({ ...noCounts, visits: 20, caught: 15, falseTriggers: 4, watchedSeconds: 3600 }),
    unseen: {
      how: 'leave one clip out',
      recall: { value: 0.5, low: 0.25, high: 0.75, n: 20 },
      falsePerHour: { value: 2, low: 1, high: 4, hours: 1 },
      moreVisits: 0,
    },
  };
}

const recommended = choice({
  threshold: 24,
  minimumArea: 50,
  mostChanged: 20_000,
  persistence: 1,
  cooldown: 10,
});
const windy = choice({ threshold: 48, minimumArea: 50, mostChanged: 20_000, persistence: 2, cooldown: 10 });
const byCondition = [
  { condition: 'calm', clips: ['a'], source: 'recorded', choice: recommended },
  { condition: 'wind', clips: ['b'], source: 'simulated', choice: windy },
  { condition: 'rain', clips: ['b'], source: 'simulated', choice: null },
] as const;
const rows = rowsOf(
  { recommended, byCondition: byCondition.map((group) => ({ ...group, clips: [...group.clips] })) },
  defaultCamera,
);

const card: Card = {
  limit: null,
  site: 'compost heap',
  camera: 'shed camera',
  rows,
  advice: 'Change the dark dials with the weather.',
  expected: {
    recall: { value: 0.62, low: 0.31, high: 0.84 },
    photosOfNothing: null,
    day: 'Over 24 hours out.',
  },
  mask: {
    polygons: [
      [
        [0, 0],
        [0.5, 0],
        [0.25, 0.5],
      ],
    ],
    backdrop: { address: 'data:image/jpeg;base64,AAAA', aspect: 0.75 },
  },
  caution: 'It rests on 16 visits.',
};

test('a card stays as it was looked at', async () => {
  await expect(cardHtml(card)).toMatchFileSnapshot('snapshots/card.html');
});

test('each kind of weather has a row, in which the dials to turn stand out', () => {
  expect(
    rows.map(({ weather, note, dials }) => [
      weather,
      note,
      dials.filter(({ turned }) => turned).map(({ name, positions, chosen }) => [name, positions[chosen!]]),
    ]),
  ).toMatchObject([
    ['any weather', null, { length: 5 }],
    ['calm', 'as in the top row', []],
    [
      'wind',
      'simulated',
      [
        ['sensitivity', 5],
        ['persistence', 2],
      ],
    ],
    ['rain', 'as in the top row', []],
    ['low light', 'as in the top row', []],
  ]);
});

test('where no weather has a choice of its own there is one row', () => {
  expect(rowsOf({ recommended, byCondition: [] }, defaultCamera)).toHaveLength(1);
});

test('where every kind of weather has the dials of all there is one row', () => {
  const same = [{ ...byCondition[0]!, clips: [...byCondition[0]!.clips], choice: recommended }];
  expect(rowsOf({ recommended, byCondition: same }, defaultCamera)).toMatchObject([
    { weather: 'any weather', when: '' },
  ]);
});

test('where changing with the weather is not shown to be worth it, the card shows one row, and says to leave it', () => {
  const groups = byCondition.map((group) => ({ ...group, clips: [...group.clips] }));
  const site = { recommended, byCondition: groups, weather: null };
  expect(rowsToSet(site, defaultCamera)).toHaveLength(1);
  const worthIt = { worthIt: true } as NonNullable<SiteResult['weather']>;
  expect(rowsToSet({ ...site, weather: worthIt }, defaultCamera)).toHaveLength(5);
});

const burst = { burst: { ...defaultCamera.burst, photos: 3 } };

test('a day brings a share of visits and as many photos as hours out, as foretold for unseen footage', () => {
  const { recall, photosOfNothing } = expectedIn({ recommended, allowance: null }, burst, 8);
  expect(recall).toMatchObject({ value: 0.5, low: 0.25, high: 0.75 });
  // Twice an hour for nothing, 3 photos each time, 8 hours.
  expect(photosOfNothing).toEqual({ value: 48, low: 24, high: 96 });
});

test('a day is taken to be 24 hours where nothing is said, and that is said', () => {
  const { photosOfNothing, day } = expectedIn({ recommended, allowance: null }, burst, undefined);
  expect(photosOfNothing?.value).toBe(140);
  expect(day).toContain('24 hours out, because nothing else was said');
});

test('a day is held against what was allowed, and says where too little is recorded to tell', () => {
  const allowance = {
    falsePerHour: 1,
    kept: true,
    hoursNeeded: 3,
    sure: null,
    hoursToBeSure: null,
    reached: null,
  };
  const { watchedHours } = recommended.score;
  const said = (hoursNeeded: number) =>
    expectedIn({ recommended, allowance: { ...allowance, hoursNeeded } }, burst, 8).day;
  expect(said(watchedHours)).toMatch(/ More than the 24 that are allowed\.$/);
  expect(said(watchedHours + 1)).toMatch(
    / More than the 24 that are allowed; too little is recorded to tell: record /,
  );
});

test('nothing that was typed by hand becomes markup, and the page asks nothing of the network', () => {
  const hostile = `</style><script>x</script><img src=x onerror="a('b')">&`;
  const page = cardHtml({
    ...card,
    site: hostile,
    camera: hostile,
    rows: rows.map((row) => ({ ...row, dials: row.dials.map((dial) => ({ ...dial, name: hostile })) })),
  });
  const { document } = parseHTML(page);
  expect(document.querySelectorAll('script, img')).toHaveLength(0);
  expect(document.querySelector('h1')?.textContent).toBe(hostile);
  expect(page.match(/(?:src|href|action)="(?!data:|#)[^"]*"|@import|url\((?!#)[^)]*\)/g)).toBeNull();
  expect(page).toContain("default-src 'none'");
});
