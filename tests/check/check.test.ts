import { describe, expect, it } from 'vitest';
import { check } from '../../src/check/check.js';
import type { BrokenLimit } from '../../src/check/limits.js';
import type { Replayed } from '../../src/check/results.js';
import { clip, results, suiteOf, triggers, visit } from './made.js';

const before = results(
  clip('calm', [visit(10, true, 'wren'), visit(20, true)], triggers('false', 50)),
  clip('windy', [visit(10, true)]),
);
const suite = suiteOf(before);
const windy = before.clips[1]!;
const lostOne = results(
  clip('calm', [visit(10, false, 'wren'), visit(20, true)], triggers('false', 50)),
  windy,
);
const oneMore = results(
  clip('calm', [visit(10, true, 'wren'), visit(20, true)], triggers('false', 50, 70)),
  windy,
);

describe('a check', () => {
  it('holds where nothing changed', () => {
    const checked = check(suite, before, before);
    expect(checked.verdict).toBe('holds');
    expect(checked.clips.map(({ verdict }) => verdict)).toEqual(['same', 'same']);
  });

  it('fails for a visit newly lost', () => {
    const checked = check(suite, before, lostOne);
    expect(checked.verdict).toBe('fails');
    expect(checked.reasons).toEqual([{ clip: 'calm', limit: null, text: 'calm: newly lost a visit' }]);
    expect(checked.clips[0]).toMatchObject({
      verdict: 'worse',
      lost: [{ visit: 0, name: 'wren', start: 10, end: 12 }],
      before: { caught: 2 },
      now: { caught: 1 },
    });
  });

  it('holds for a visit gained', () => {
    expect(check(suite, lostOne, before)).toMatchObject({
      verdict: 'holds',
      clips: [{ verdict: 'better' }, {}],
    });
  });

  it('tells of a trigger new false triggers and holds, unless the suite is strict', () => {
    expect(check(suite, before, oneMore)).toMatchObject({
      verdict: 'holds',
      clips: [{ verdict: 'worse' }, {}],
    });
    expect(check({ ...suite, strict: true }, before, oneMore).verdict).toBe('fails');
  });

  it('fails where nothing was accepted yet, for it compares nothing', () => {
    const checked = check(suite, null, before);
    expect(checked.verdict).toBe('fails');
    expect(checked.clips.map(({ verdict, why }) => [verdict, why])).toEqual([
      ['not comparable', 'nothing was accepted yet'],
      ['not comparable', 'nothing was accepted yet'],
    ]);
  });

  it('fails where a clip is new, and where one was taken out', () => {
    const one = results(before.clips[0]!);
    expect(check(suite, one, before)).toMatchObject({ verdict: 'fails', clips: [{}, { why: 'it is new' }] });
    expect(check(suiteOf(one), before, one)).toMatchObject({
      verdict: 'fails',
      clips: [{}, { clip: 'windy', why: 'it is no longer in the suite' }],
    });
  });

  it('gives no verdict on a clip that changed, and infers nothing from it', () => {
    const [calm] = lostOne.clips;
    const checked = check(suite, before, results({ ...calm!, pictures: 'f'.repeat(64) }, windy));
    expect(checked.clips[0]).toMatchObject({ verdict: 'not comparable', before: null, lost: [] });
    expect(checked.inference.clips).toBe(1);
    expect(checked.now?.visits).toBe(1);
  });

  it('names a camera, settings, engine and mask that changed, and compares all the same', () => {
    const { engine, camera, settings, controls, clips } = before;
    const other = 'f'.repeat(64);
    const now = {
      engine: engine + 1,
      camera: { ...camera, key: other, analysis: { ...camera.analysis, smooth: 2 } },
      settings: { ...settings, key: other, threshold: 30 },
      controls,
      clips: [{ ...clips[0]!, mask: other }, windy],
    };
    const checked = check(suite, before, now);
    expect(checked.changed).toEqual([
      expect.stringMatching(/^engine: .*version 2 of it, was version 1/),
      'camera: analysis.smooth 2, was 1',
      'settings: threshold 30, was 24',
    ]);
    expect(checked.clips.map(({ verdict, maskChanged }) => [verdict, maskChanged])).toEqual([
      ['same', true],
      ['same', false],
    ]);
  });

  it('says the same of clips in another order', () => {
    const turned = (all: typeof before) => results(...all.clips.toReversed());
    const plain = check(suite, before, lostOne);
    const shuffled = check(suiteOf(turned(before)), turned(before), turned(lostOne));
    expect(shuffled.clips.toReversed()).toEqual(plain.clips);
    expect({ ...shuffled, clips: [] }).toEqual({ ...plain, clips: [] });
  });
});

it('says the same of clips whose times are all shifted', () => {
  const shifted = (all: Replayed, by: number): Replayed => ({
    ...all,
    clips: all.clips.map((made) => ({
      ...made,
      visits: made.visits.map((v) => ({ ...v, start: v.start + by, end: v.end + by })),
      triggers: made.triggers.map((t) => ({ ...t, time: t.time + by })),
    })),
  });
  const said = ({ verdict, reasons, clips, limits, inference, now }: ReturnType<typeof check>) => ({
    ...{ verdict, reasons, limits, inference, now },
    clips: clips.map((one) => [one.verdict, one.lost.map(({ visit }) => visit), one.newFalse.length]),
  });
  const both = results(clip('calm', [visit(10, false), visit(20, true)], triggers('false', 50.4, 90)), windy);
  const plain = check(suite, before, both);
  expect(plain.clips[0]).toMatchObject({ movedFalse: [{}], newFalse: [{ time: 90 }], lost: [{ visit: 0 }] });
  for (const by of [0.2, 7, 3600]) {
    expect(said(check(suite, shifted(before, by), shifted(both, by)))).toEqual(said(plain));
  }
});

describe('limits', () => {
  const limited = suiteOf(before, { limits: { recall: 0.9, falsePerHour: 0.4 } });

  it('are held against the clips together, with an interval', () => {
    // Two of three visits; one false trigger in two watched hours, of three visits and two clips of an hour.
    const { limits, reasons } = check(limited, before, lostOne);
    expect(limits).toMatchObject([
      { clip: null, limit: 'recall', bound: 0.9, value: 2 / 3, interval: { n: 3 }, holds: false },
      { clip: null, limit: 'falsePerHour', bound: 0.4, value: 0.5, interval: { n: 1 }, holds: false },
    ]);
    expect(reasons.map(({ limit }) => limit)).toEqual([null, 'recall', 'falsePerHour']);
  });

  it('are told with the interval of replay, in which triggers that come in bunches weigh as bunches', () => {
    const gust = results(
      clip('calm', [visit(10, true)], triggers('false', 50, 51, 52, 53, 54, 55)),
      clip('windy', [visit(10, true)]),
    );
    const { limits, now } = check(suiteOf(gust, { limits: { falsePerHour: 4 } }), gust, gust);
    const { low, high } = now!.falsePerHour!.bouts!;
    expect(high).toBeGreaterThan(now!.falsePerHour!.high);
    expect(limits).toMatchObject([{ value: 3, interval: { low, high, n: 1 }, holds: true }]);
  });

  it('hold at the very value', () => {
    const exact = suiteOf(before, { limits: { recall: 1, falsePerHour: 0.5 } });
    expect(check(exact, before, before)).toMatchObject({ verdict: 'holds' });
  });

  it('of one clip are held against that clip', () => {
    const own = { ...suite, clips: [suite.clips[0]!, { ...suite.clips[1]!, limits: { falsePerHour: 0 } }] };
    expect(check(own, before, before).limits).toMatchObject([{ clip: 'windy', value: 0, holds: true }]);
  });

  it('that were broken when accepted do not fail until they are broken further', () => {
    const broken: BrokenLimit[] = [
      { clip: null, limit: 'recall', bound: 0.9, value: 2 / 3 },
      { clip: null, limit: 'falsePerHour', bound: 0.4, value: 0.5 },
    ];
    const accepted = { ...lostOne, brokenLimits: broken };
    const checked = check(limited, accepted, lostOne);
    expect(checked.verdict).toBe('holds');
    expect(checked.limits.map(({ holds, accepted }) => [holds, accepted])).toEqual([
      [false, true],
      [false, true],
    ]);
    const further = results(lostOne.clips[0]!, clip('windy', [visit(10, true)], triggers('false', 5)));
    expect(check(limited, accepted, further).reasons.map(({ limit }) => limit)).toEqual(['falsePerHour']);
  });

  it('that were accepted under another bound are not', () => {
    const broken: BrokenLimit[] = [{ clip: null, limit: 'falsePerHour', bound: 0.3, value: 0.5 }];
    const only = suiteOf(before, { limits: { falsePerHour: 0.4 } });
    expect(check(only, { ...before, brokenLimits: broken }, before).verdict).toBe('fails');
  });

  it('on something the clips have nothing of are refused', () => {
    const empty = results(clip('calm', []));
    expect(() => check(suiteOf(empty, { limits: { recall: 0.5 } }), empty, empty)).toThrow(
      'suite.json: limits.recall: expected a limit on something that can be told, but the clips have no animal visits; take the limit out',
    );
  });
});
