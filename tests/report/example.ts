import type { Now, SiteResult } from '../../src/jobs/tune.js';
import type { ClipShown, PictureGroup, Report, ReportGroup } from '../../src/report/data.js';
import { noCounts, scoreOf } from '../../src/score/score.js';
import type { Choice } from '../../src/tune/site-result.js';
import type { DialShown } from '../../src/words/dials-shown.js';

export const nonePictured: PictureGroup = { pictures: [], more: 0, people: 0 };

/** A clip of three minutes: a wren caught, a wood mouse missed, two false triggers, a stretch set aside. */
export const clip: ClipShown = {
  name: 'Log pile, calm',
  seconds: 180,
  area: {
    kind: 'measured',
    measure: 'region',
    threshold: 24,
    times: Array.from({ length: 90 }, (_, k) => 2 * k),
    pixels: Array.from({ length: 90 }, (_, k) =>
      k === 30 || k === 45 ? 400 : k === 70 ? 5000 : (k * 7) % 60,
    ),
  },
  minimumArea: 100,
  triggers: [
    { time: 10, photos: [10.8], verdict: 'ignored', visit: null },
    { time: 60, photos: [60.8], verdict: 'true', visit: 0 },
    { time: 90, photos: [90.8], verdict: 'false', visit: null },
    { time: 91, photos: [91.8], verdict: 'false', visit: null },
  ],
  labels: {
    kind: 'labelled',
    score: scoreOf({
      ...noCounts,
      visits: 2,
      caught: 1,
      trueTriggers: 1,
      falseTriggers: 2,
      ignoredTriggers: 1,
      watchedSeconds: 120,
    }),
    visits: [
      { start: 58, end: 72, name: 'wren', caught: true },
      { start: 120, end: 126, name: 'wood mouse', caught: false },
    ],
    ignored: [
      { start: 0, end: 20, kind: 'set aside', why: 'setting up' },
      { start: 160, end: 180, kind: 'not reviewed', why: null },
    ],
  },
  pictures: { taken: nonePictured, nothing: nonePictured, missed: nonePictured },
};

/** The same clip as it is before anyone labelled it. */
export const unlabelled: ClipShown = {
  ...clip,
  triggers: clip.triggers.map(({ time, photos }) => ({ time, photos, verdict: null, visit: null })),
  labels: { kind: 'unlabelled' },
};

/** An hour at five frames a second that never comes to rest, with a visit every two and a trigger every half minute. */
export function hour(): ClipShown {
  const frames = 18_000;
  const verdicts = ['true', 'false', 'ignored'] as const;
  const score = {
    visits: 30,
    caught: 15,
    trueTriggers: 40,
    falseTriggers: 40,
    ignoredTriggers: 40,
    watchedSeconds: 3000,
  };
  return {
    ...clip,
    seconds: 3600,
    area: {
      kind: 'measured',
      measure: 'region',
      threshold: 24,
      times: Array.from({ length: frames }, (_, k) => k / 5),
      pixels: Array.from({ length: frames }, (_, k) => (k * 7919) % 1013),
    },
    triggers: Array.from({ length: 120 }, (_, i) => ({
      time: 30 * i,
      photos: [],
      verdict: verdicts[i % 3] as 'true',
      visit: null,
    })),
    labels: {
      kind: 'labelled',
      score: scoreOf({ ...noCounts, ...score }),
      visits: Array.from({ length: 30 }, (_, i) => ({
        start: 120 * i,
        end: 120 * i + 20,
        name: 'wren',
        caught: i % 2 === 0,
      })),
      ignored: [],
    },
  };
}

export const dials: DialShown[] = [
  {
    name: 'sensitivity',
    sets: 'threshold',
    positions: [1, 2, 3, 4, 5],
    values: [60, 48, 36, 24, 12],
    chosen: 3,
  },
  { name: 'minimumArea', sets: 'minimumArea', positions: [50, 100, 200], values: [50, 100, 200], chosen: 1 },
  { name: 'cooldown', sets: 'cooldown', positions: [10], values: [10], chosen: 0 },
];

export const settings = {
  threshold: 24,
  minimumArea: 100,
  mostChanged: 76_800,
  persistence: 1,
  cooldown: 10,
};

const recommended: Choice = {
  settings: { version: 1, ...settings },
  controls: { sensitivity: 4, minimumArea: 100, cooldown: 10 },
  score: scoreOf({
    ...noCounts,
    visits: 20,
    caught: 15,
    trueTriggers: 20,
    falseTriggers: 4,
    ignoredTriggers: 0,
    watchedSeconds: 3600,
  }),
  unseen: {
    how: 'leave one clip out',
    recall: { value: 0.7, low: 0.5, high: 0.85, n: 20 },
    falsePerHour: { value: 6, low: 1, high: 14, hours: 1 },
    moreVisits: 0,
  },
};

const best: Choice = {
  ...recommended,
  score: scoreOf({
    ...noCounts,
    visits: 20,
    caught: 16,
    trueTriggers: 20,
    falseTriggers: 6,
    ignoredTriggers: 0,
    watchedSeconds: 3600,
  }),
};

const frontPoint = (recall: number, falsePerHour: number) => ({
  settings: recommended.settings,
  byLuck: null,
  byBouts: null,
  recall,
  precision: null,
  falsePerHour,
});

/** An hour of simulated wind with twenty visits. */
const strength = (beaufort: number, caught: number, falseTriggers: number) => {
  const score = scoreOf({
    ...noCounts,
    visits: 20,
    caught,
    falseTriggers,
    falseBouts: falseTriggers,
    falseSquares: falseTriggers,
    watchedSeconds: 3600,
  });
  return { strength: beaufort, recall: caught / 20, falsePerHour: falseTriggers, score };
};

export const now: Now = {
  settings: { version: 1, ...settings },
  controls: { sensitivity: 3, minimumArea: 100, cooldown: 10 },
  score: best.score,
  against: {
    gained: [{ clip: 'a', start: 4, end: 9, name: 'wren' }],
    lost: [],
    byLuck: null,
    recall: { value: 0.05, low: -0.02, high: 0.2 },
    falsePerHour: { value: -4, low: -9, high: -1 },
  },
  assumed: true,
  unnamed: {},
};

export const tuned: SiteResult = {
  photosPerTrigger: 1,
  site: 'hedge',
  clips: ['a'],
  now,
  mask: null,
  searched: 15,
  allowance: {
    falsePerHour: 6,
    kept: true,
    hoursNeeded: 0.5,
    sure: null,
    hoursToBeSure: null,
    reached: null,
  },
  worth: null,
  tells: 'hint',
  ends: [],
  best,
  recommended,
  byCondition: [
    { condition: 'calm', clips: ['a'], source: 'recorded', choice: best },
    {
      condition: 'wind',
      clips: ['a'],
      source: 'simulated',
      choice: recommended,
      strengths: [strength(4, 16, 5), strength(6, 11, 31)],
    },
  ],
  simulations: [
    {
      clip: 'a',
      sample: { start: 0, end: 90 },
      visits: 3,
      assumed: ['how far branches sway'],
      motionless: false,
      defaults: [],
    },
  ],
  weather: {
    one: recommended,
    changing: { value: 0.04, low: -0.02, high: 0.1 },
    worthIt: false,
  },
  doubts: [
    {
      condition: 'wind',
      assumption: 'sway',
      what: 'how far branches go',
      figure: 0.3,
      unit: 'of their length',
      source: 'assumed',
      measure: 'Record a clip in wind at this site.',
      times: 2,
      taken: 2,
      strength: 6,
      controls: { sensitivity: 4 },
      flips: true,
      visits: 20,
      lost: 1,
      recall: 0.5,
      falsePerHour: 90,
      asAssumed: { recall: 0.55, falsePerHour: 31 },
    },
  ],
  rain: {
    strength: 8,
    falsePerHour: 40,
    dry: 2,
    parts: [
      { part: 'near drops', alone: 30, without: 12 },
      { part: 'haze', alone: 0, without: null },
    ],
  },
  limit: {
    clip: 'a',
    leftOut: [],
    visits: 9,
    inWhole: null,
    inFullLight: 9,
    fullLight: 20_000,
    tells: 'a limit',
    lux: { value: 5, low: 1.25, high: 10 },
    levels: [
      { lux: 10, caught: 8, share: 0.89, low: 0.6, high: 1 },
      { lux: 5, caught: 6, share: 0.67, low: 0.4, high: 0.9 },
      { lux: 2.5, caught: 4, share: 0.44, low: 0.2, high: 0.7 },
      { lux: 1.25, caught: 0, share: 0, low: 0, high: 0.23 },
    ],
    times: {
      date: '2026-05-04',
      zone: '+01:00',
      clear: { from: '04:50', until: '21:20' },
      overcast: { from: '05:05', until: '21:05' },
    },
    missing: [],
  },
  notches: [
    {
      dial: 'sensitivity',
      position: 5,
      score: scoreOf({
        ...noCounts,
        visits: 20,
        caught: 18,
        trueTriggers: 30,
        falseTriggers: 40,
        ignoredTriggers: 0,
        watchedSeconds: 3600,
      }),
    },
  ],
  front: [frontPoint(0.95, 240), frontPoint(0.8, 6), frontPoint(0.75, 4), frontPoint(0.3, 0)],
};

export const group: ReportGroup = {
  site: null,
  settings,
  dials,
  offDials: [],
  about: {
    kind: 'tune',
    result: tuned,
    heading: 'As a hint, set it like this',
    words: ['It catches three visits of four.'],
    choices: [],
  },
  clips: [clip],
};

export const report: Report = {
  title: 'Settings for the shed camera',
  camera: 'shed camera',
  groups: [group],
};

/** The same with something else in its group. */
export function reportWith(rest: Partial<ReportGroup>): Report {
  return { ...report, groups: [{ ...group, ...rest }] };
}
