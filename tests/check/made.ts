import type { Replayed, TriggerResult, VisitResult } from '../../src/check/results.js';
import { boutsOf } from '../../src/score/bouts.js';
import { judgeAll } from '../../src/score/replayed.js';

export type MadeClip = Replayed['clips'][number];
type Verdict = TriggerResult['verdict'];

const key = (digit: string) => digit.repeat(64);

/** A visit of two seconds. */
export function visit(start: number, caught: boolean, name?: string): VisitResult {
  return { start, end: start + 2, caught, ...(name !== undefined && { name }) };
}

export function triggers(verdict: Verdict, ...times: number[]): TriggerResult[] {
  return times.map((time) => ({ time, verdict }));
}

/** A clip's results: an hour watched. */
export function clip(name: string, visits: VisitResult[], fired: TriggerResult[] = []): MadeClip {
  const count = (verdict: Verdict) => fired.filter((t) => t.verdict === verdict).length;
  const bouts = (verdict: Verdict) => boutsOf(fired.flatMap((t) => (t.verdict === verdict ? [t.time] : [])));
  return {
    clip: name,
    pictures: key('a'),
    times: key('b'),
    labels: key('c'),
    mask: null,
    visits,
    triggers: fired.toSorted((a, b) => a.time - b.time),
    judged: judgeAll([], () => [], null),
    counts: {
      visits: visits.length,
      caught: visits.filter(({ caught }) => caught).length,
      boxed: 0,
      byLuck: 0,
      trueTriggers: count('true'),
      falseTriggers: count('false'),
      ignoredTriggers: count('ignored'),
      watchedSeconds: 3600,
      trueBouts: bouts('true').bouts,
      trueSquares: bouts('true').squares,
      falseBouts: bouts('false').bouts,
      falseSquares: bouts('false').squares,
    },
  };
}

/** What a suite of such clips gave. */
export function results(...clips: MadeClip[]): Replayed {
  return {
    engine: 1,
    camera: {
      key: key('d'),
      name: 'shed camera',
      analysis: { width: 64, height: 48, rate: 5, smooth: 1 },
      reference: { kind: 'previous', lag: 1, whileBusy: 'continues' },
      area: 'region',
      shutterLag: 0.4,
      burst: { photos: 1, interval: 1 },
    },
    settings: {
      key: key('e'),
      threshold: 24,
      minimumArea: 16,
      mostChanged: 3072,
      persistence: 1,
      cooldown: 4,
    },
    controls: {},
    clips,
  };
}

/** A suite that asks nothing more of such clips. */
export function suiteOf(all: Replayed, more: object = {}) {
  const clips = all.clips.map(({ clip }) => ({ name: clip, path: clip, limits: {}, place: clip }));
  return { file: 'suite.json', clips, limits: {}, strict: false, ...more };
}
