import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cameraSchema } from '../../../src/camera/description.js';
import { photosFor } from '../../../src/camera/timing.js';
import { type Clip, openClip } from '../../../src/clip/open.js';
import type { MissedVisit } from '../../../src/diagnose/diagnosis.js';
import { explainMissed } from '../../../src/diagnose/missed/missed.js';
import { openReplayed, type ReplayedClip } from '../../../src/diagnose/replayed-clip.js';
import type { Polygon } from '../../../src/engine/mask.js';
import { replayClip } from '../../../src/measure/replay.js';
import { judgeAll } from '../../../src/score/replayed.js';
import { Cache } from '../../../src/store/cache.js';
import { dialsOf, Grid } from '../../../src/sweep/grid.js';
import { reasonText } from '../../../src/words/diagnosis-wording.js';
import { small, smallCamera, writeClip } from '../../support/clips.js';
import { camera, drawn, settings as plain, type Square } from '../made.js';

const folder = mkdtempSync(join(tmpdir(), 'missed-'));
const cache = new Cache(join(folder, 'cache'));
afterAll(() => rmSync(folder, { recursive: true }));

/** Threshold 32, at least 16 pixels, two frames in a row, 4 s until it can fire again, photos 0.4 s after a trigger. */
const settings = { ...plain, persistence: 2 };
const square = { size: 6, grey: 200, at: [20, 20] as [number, number] };
const corner: Polygon = [
  [0, 0],
  [0.25, 0],
  [0.25, 0.3],
  [0, 0.3],
];
/** Five frames a second: frame 10 is at 2.0 s. Every visit is missed for a reason of its own. */
const squares: Square[] = [
  { ...square, from: 10, to: 12 }, // nobody: fires at 2.2, busy until 6.2
  { ...square, from: 15, to: 20 },
  { ...square, from: 40, to: 45, grey: 120 }, // differs by 20
  { ...square, from: 55, to: 60, size: 3 }, // 9 pixels
  { ...square, from: 70, to: 75, still: true }, // changes one frame when it comes, one when it goes
  { ...square, from: 85, to: 86 }, // fires at 17.2, the photo at 17.6
  { ...square, from: 120, to: 125, at: [1, 2] }, // in the masked corner
  { ...square, from: 150, to: 152 }, // nobody: fires at 30.2, busy until 34.2
  { ...square, from: 160, to: 164 }, // comes while it is busy ...
  { ...square, from: 165, to: 210, still: true }, // ... and stays where it last was
];
const visits = [
  { start: 3, end: 4, name: 'wren' },
  { start: 8, end: 9 },
  { start: 11, end: 12 },
  { start: 14, end: 15 },
  { start: 17, end: 17.2 },
  { start: 24, end: 25 },
  { start: 32, end: 42 },
].map((visit) => ({ ...visit, type: 'animal' as const }));
const reasons = ['cooldown', 'too faint', 'too small', 'too brief', 'shutter', 'masked', 'absorbed'];

let clip: Clip;
let replayed: ReplayedClip;
let missed: MissedVisit[];
beforeAll(async () => {
  await writeClip(join(folder, 'clip'), drawn(230, squares), { version: 1, visits, mask: [corner] });
  clip = await openClip(join(folder, 'clip'), { cache });
  replayed = await openReplayed(clip, camera, settings, { cache });
  missed = (await explainMissed([replayed], { cache }))[0] as MissedVisit[];
});

describe('a missed visit', () => {
  it('is planted where it was meant to be', () => {
    expect(replayed.judged.triggers.map(({ time }) => time)).toEqual([2.2, 17.2, 30.2]);
    expect(replayed.judged.counts).toMatchObject({ caught: 0, falseTriggers: 3 });
  });

  it('has the reason it was planted with', () => {
    expect(missed.map(({ why }) => why)).toEqual(reasons);
    expect(missed.map(({ visit, start, name }) => ({ visit, start, name }))).toEqual(
      visits.map(({ start, name }, visit) => ({ visit, start, name: name ?? null })),
    );
  });

  it.each([
    [0, /0:03\.2, but .* trigger at 0:02\.2 \(a false one\) until 0:06\.2\./],
    [1, /Nothing changed by 32 grey levels .* wants 16 pixels; 36 changed by 18 or more\./],
    [2, /in 2 frames in a row was 9 pixels in one piece; the camera wants 16\./],
    [3, /in one frame only, and the camera wants 2 in a row\./],
    [4, /fired at 0:17\.2, .* photo came 0\.4 s later, 0\.4 s after it had gone\./],
    [5, /without the mask 36 pixels in one piece would have changed at 0:24\.\d, .* wants 16\./],
    [
      6,
      /busy from the trigger at 0:30\.2 \(a false one\) until 0:34\.2, and stood still .* at most 0 pixels/,
    ],
  ])('is explained in one sentence with its figures: visit %i', (visit, sentence) => {
    expect(missed[visit]?.evidence).toMatch(sentence);
  });
});

describe('the nearest settings that would have caught it', () => {
  const under = async (s: object) => {
    const times = await replayClip(clip, camera, { ...settings, ...s }, { cache });
    return judgeAll(times, (time) => photosFor(camera, time), replayed.truth);
  };

  it('turn the one dial that stood in the way, where one did', () => {
    expect(missed.slice(0, 3).map(({ needs }) => needs?.settings)).toEqual([
      { version: 1, threshold: 32, minimumArea: 16, mostChanged: 3072, persistence: 2, cooldown: 1 },
      { version: 1, threshold: 18, minimumArea: 16, mostChanged: 3072, persistence: 2, cooldown: 4 },
      { version: 1, threshold: 32, minimumArea: 4, mostChanged: 3072, persistence: 2, cooldown: 4 },
    ]);
  });

  it('are none where no setting of the camera catches it, and the sentence says so', () => {
    for (const visit of [3, 4, 5]) {
      expect(missed[visit]?.needs).toBeNull();
      expect(missed[visit]?.evidence).toMatch(/ No setting of the camera catches it\.$/);
    }
  });

  it('catch the visit when replayed, at the price that was named', async () => {
    for (const { visit, needs } of missed) {
      if (!needs) continue;
      const then = await under(needs.settings);
      const { caught, falseTriggers } = then.counts as NonNullable<typeof then.counts>;
      expect(then.visits[visit]?.caught).toBe(true);
      expect(needs.falseAdded).toBe(falseTriggers - 3);
      expect(needs.visitsGained - needs.visitsLost).toBe(caught);
    }
  });

  it('are no further away than any other that catches it', async () => {
    const grid = new Grid(camera, dialsOf(camera));
    const places = (s: object) =>
      grid.dials.map((dial) => dial.values.indexOf((s as Record<string, number>)[dial.sets]!));
    const apart = (s: object) =>
      places(s).reduce((sum, place, d) => sum + Math.abs(place - places(settings)[d]!), 0);
    const least = missed.map(() => Number.POSITIVE_INFINITY);
    for (let setting = 0; setting < grid.size; setting++) {
      const s = { ...grid.settingsAt(setting), persistence: 2 };
      const then = await under(s);
      missed.forEach(({ visit }, i) => {
        if (then.visits[visit]?.caught) least[i] = Math.min(least[i]!, apart(s));
      });
    }
    expect(missed.map(({ needs }) => (needs ? apart(needs.settings) : Number.POSITIVE_INFINITY))).toEqual(
      least,
    );
  });
});

describe('what the camera could not have seen', () => {
  it('is told apart from what it saw too little of', async () => {
    const odd: Square[] = [
      { ...square, from: 0, to: 14, still: true },
      { ...square, from: 30, to: 35 }, // two places at once: 72 pixels from frame to frame
    ];
    const labelled = [
      { start: 0, end: 2 },
      { start: 4.05, end: 4.15 },
      { start: 6.5, end: 7 }, // a trigger at 6.0, when 36 pixels change, would be too early
    ].map((visit) => ({ ...visit, type: 'animal' }));
    await writeClip(join(folder, 'odd'), drawn(50, odd), { version: 1, visits: labelled });
    const limited = { ...settings, mostChanged: 60 };
    const b = await openReplayed(await openClip(join(folder, 'odd'), { cache }), camera, limited, { cache });
    const [explained] = await explainMissed([b], { cache });
    expect(explained?.map(({ why }) => why)).toEqual(['absorbed', 'too brief', 'too brief']);
    expect(explained?.[0]?.evidence).toMatch(/in view from the first frame on and kept still/);
    expect(explained?.[1]?.evidence).toMatch(
      /in view for 0\.1 s only, between two of the frames .* 0\.2 s apart/,
    );
    expect(explained?.map((one) => reasonText(one))).toEqual([
      'stood still until the camera took it for background',
      'too brief',
      'too much changed at once',
    ]);
    expect(explained?.[2]?.evidence).toMatch(/Too much changed at once: 72 pixels .* above 60/);
  });
});

describe('a camera whose reference waits for it', () => {
  const waiting = cameraSchema.parse({
    ...smallCamera,
    analysis: { ...smallCamera.analysis, smooth: 0 },
    reference: { kind: 'previous', lag: 1, whileBusy: 'restarts' },
  });

  it('is explained from what it saw while it was idle', async () => {
    const b = await openReplayed(clip, waiting, settings, { cache });
    const [explained] = await explainMissed([b], { cache });
    expect(explained?.map(({ why }) => why)).toEqual(reasons);
    expect(explained?.[0]?.evidence).toMatch(/For most of the visit .* trigger at 0:02\.2 .* until 0:06\.2/);
    expect(explained?.[6]?.evidence).toMatch(/when the reference began anew at 0:34\.2/);
    expect(explained?.slice(0, 3).map(({ needs }) => needs?.controls)).toEqual([null, null, null]);
  });
});

describe('a clip', () => {
  it('without labels has no missed visits', async () => {
    await writeClip(join(folder, 'unlabelled'), drawn(20, []), null);
    const bare = await openReplayed(await openClip(join(folder, 'unlabelled'), { cache }), camera, settings, {
      cache,
    });
    expect(await explainMissed([bare], { cache })).toEqual([[]]);
  });

  it('is not said to look like the ground where it is slow: it stands out, and an average sees it', async () => {
    // A soft hump of 60 grey levels over the ground, from edge to edge of the view at one pixel a frame.
    const frames = Array.from({ length: 150 }, (_, k) => {
      const middle = k - 40;
      return Uint8Array.from({ length: small.width * small.height }, (_, i) =>
        k < 10 ? 100 : 100 + Math.max(0, 60 - 2 * Math.abs((i % small.width) - middle)),
      );
    });
    const hedgehog = { start: 2, end: 27, type: 'animal', name: 'hedgehog' };
    await writeClip(join(folder, 'slow'), frames, { version: 1, visits: [hedgehog] });
    const slow = await openClip(join(folder, 'slow'), { cache });
    const before = await openReplayed(slow, camera, settings, { cache });
    const [explained] = await explainMissed([before], { cache });
    expect(explained?.[0]?.why).toBe('too faint');
    expect(explained?.[0]?.evidence).toMatch(
      /it was slow or looked much like .* compares with an average may/,
    );

    const averaging = cameraSchema.parse({ ...camera, reference: { kind: 'average', seconds: 20 } });
    const after = await openReplayed(slow, averaging, settings, { cache });
    expect(after.judged.counts?.caught).toBe(1);
  });
});
