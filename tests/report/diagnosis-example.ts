import { defaultCamera } from '../../src/camera/default.js';
import type { Clip } from '../../src/clip/open.js';
import type {
  CauseName,
  ClipDiagnosis,
  Cure,
  Diagnosis,
  ExplainedTrigger,
  SettingsOut,
} from '../../src/diagnose/diagnosis.js';
import { noCounts } from '../../src/score/score.js';

export const camera = defaultCamera;
/** Sensitivity 6, and the other dials at positions of theirs. */
export const now = {
  threshold: 40,
  minimumArea: 100,
  mostChanged: 76_800,
  persistence: 1,
  cooldown: 10,
  warnings: [],
};
const { warnings: _, ...values } = now;
const out: SettingsOut = { version: 1, ...values };

const trigger = (
  time: number,
  cause: CauseName,
  probability: number,
  evidence: string,
  box: ExplainedTrigger['box'],
): ExplainedTrigger => ({ time, cause, probability, evidence, box });

const bramble = 'the same patch has changed 41 times at about 1.3 Hz and returns to where it was';
/** Wind nine times in the lower left, an insect twice, rain once, one that nothing explains. */
export const explained: ExplainedTrigger[] = [
  trigger(31, 'insect', 0.71, 'it is large, blurred and gone within one frame', [0.4, 0.1, 0.2, 0.3]),
  ...[62, 74, 86, 98, 110, 122, 134, 146].map((time, i) =>
    trigger(time, 'wind', 0.8 + i / 100, bramble, [0, 0.6, 0.25, 0.4]),
  ),
  trigger(160, 'unknown', 0.34, 'no cause explains it well', [0.7, 0.2, 0.1, 0.1]),
  trigger(175, 'rain', 0.66, 'many thin upright streaks all over the picture', [0, 0, 1, 1]),
  trigger(200, 'insect', 0.88, 'it is large, blurred and gone within one frame', [0.45, 0.1, 0.2, 0.3]),
  trigger(214, 'wind', 0.93, bramble, [0.02, 0.62, 0.25, 0.38]),
];

const [columns, rows] = [16, 12];
/** Counts in a rectangle of cells, and none elsewhere. */
function cells(...of: [left: number, top: number, right: number, bottom: number, count: number][]): number[] {
  return Array.from({ length: columns * rows }, (_, i) => {
    const [x, y] = [i % columns, Math.floor(i / columns)];
    return of.reduce((sum, [l, t, r, b, n]) => sum + (x >= l && x <= r && y >= t && y <= b ? n : 0), 0);
  });
}

const photos = (time: number) => [time + 0.5, time + 1.5];
/** Three minutes of a log pile: twelve false triggers, three visits of five missed. */
export const logPile: ClipDiagnosis = {
  clip: 'log-pile-gusty',
  byLuck: [],
  simulated: false,
  seconds: 240,
  judged: {
    triggers: [
      ...explained.map(({ time }) => ({
        time,
        photos: photos(time),
        verdict: 'false' as const,
        visit: null,
      })),
      { time: 45, photos: photos(45), verdict: 'true' as const, visit: 1 },
      { time: 225, photos: photos(225), verdict: 'true' as const, visit: 4 },
    ].sort((a, b) => a.time - b.time),
    visits: [
      { start: 10, end: 16, name: 'wood mouse', caught: false },
      { start: 42, end: 50, name: 'wren', caught: true },
      { start: 87, end: 90, name: 'blackbird', caught: false },
      { start: 150, end: 151, caught: false },
      { start: 222, end: 235, name: 'house sparrow', caught: true },
    ],
    counts: {
      ...noCounts,
      visits: 5,
      caught: 2,
      trueTriggers: 2,
      falseTriggers: 13,
      ignoredTriggers: 0,
      watchedSeconds: 210,
    },
  },
  explained,
  missed: [
    {
      visit: 0,
      start: 10,
      end: 16,
      name: 'wood mouse',
      why: 'too faint',
      evidence: 'at threshold 40 at most 61 pixels changed together; at 24 it would have been 130',
      needs: {
        settings: { ...out, threshold: 24 },
        controls: { sensitivity: 8, minimumArea: 100, mostChanged: 76_800, persistence: 1, cooldown: 10 },
        falseAdded: 14,
        visitsLost: 0,
        visitsGained: 2,
      },
    },
    {
      visit: 2,
      start: 87,
      end: 90,
      name: 'blackbird',
      why: 'cooldown',
      evidence: 'the camera was busy until 1:36 after firing at 1:26',
      needs: {
        settings: { ...out, cooldown: 2 },
        controls: { sensitivity: 6, minimumArea: 100, mostChanged: 76_800, persistence: 1, cooldown: 2 },
        falseAdded: -1,
        visitsLost: 1,
        visitsGained: 1,
      },
    },
    {
      visit: 3,
      start: 150,
      end: 151,
      name: null,
      why: 'shutter',
      evidence:
        'it fired at 2:30.9, and the first photo came 0.4 s after it had gone. No setting of the camera catches it',
      needs: null,
    },
  ],
  places: {
    columns,
    rows,
    explained: cells([0, 7, 3, 11, 6], [1, 8, 2, 10, 3], [7, 1, 9, 4, 2], [11, 2, 12, 3, 1]),
    animals: cells([5, 6, 8, 8, 1], [6, 7, 7, 8, 2], [10, 9, 11, 10, 1]),
  },
};

/** The same clip before anyone labelled it. */
export const unlabelled: ClipDiagnosis = {
  ...logPile,
  clip: 'compost-heap-dusk',
  judged: {
    triggers: logPile.judged.triggers.map(({ time, photos }) => ({
      time,
      photos,
      verdict: null,
      visit: null,
    })),
    visits: [],
    counts: null,
  },
  missed: [],
  places: { ...logPile.places, animals: cells() },
};

/** A calm clip: all caught, and nothing false. */
export const quiet: ClipDiagnosis = {
  clip: 'water-bowl-calm',
  byLuck: [],
  simulated: false,
  seconds: 120,
  judged: {
    triggers: [{ time: 20, photos: photos(20), verdict: 'true', visit: 0 }],
    visits: [{ start: 18, end: 25, name: 'moorhen', caught: true }],
    counts: {
      ...noCounts,
      visits: 1,
      caught: 1,
      trueTriggers: 1,
      falseTriggers: 0,
      ignoredTriggers: 0,
      watchedSeconds: 113,
    },
  },
  explained: [],
  missed: [],
  places: { columns, rows, explained: cells(), animals: cells([4, 4, 6, 6, 1]) },
};

const corner: [number, number][] = [
  [0, 0.58],
  [0.18, 0.58],
  [0.27, 1],
  [0, 1],
];

export const cures: Cure[] = [
  {
    kind: 'mask',
    settings: { ...out, mask: [corner] },
    turn: null,
    falseRemoved: 9,
    visitsLost: 0,
    visitsGained: 1,
    of: { falseTriggers: 13, caught: 2 },
    proof: { falseRemoved: 4, falseTriggers: 6, visitsLost: 0, caught: 1 },
  },
  {
    kind: 'dial',
    settings: { ...out, threshold: 48 },
    turn: { dial: 'sensitivity', from: 6, to: 5 },
    falseRemoved: 7,
    visitsLost: 1,
    visitsGained: 0,
    of: { falseTriggers: 13, caught: 2 },
    proof: { falseRemoved: 3, falseTriggers: 6, visitsLost: 0, caught: 1 },
  },
];

export const diagnosis: Diagnosis = { clips: [logPile, quiet], cures, notes: [] };

/** As much of the opened clips as telling a diagnosis asks for. */
export const opened = (mask?: [number, number][][]): Pick<Clip, 'dir' | 'labels'>[] =>
  diagnosis.clips.map(({ clip }) => ({
    dir: clip,
    labels: { version: 1, visits: [], ...(mask && { mask }) },
  }));
