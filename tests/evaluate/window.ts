import type { Camera } from '../../src/camera/description.js';
import { photosFor } from '../../src/camera/timing.js';
import type { Labels } from '../../src/score/labels.js';
import { truthOf } from '../../src/score/truth.js';
import type { Columns } from '../../src/sweep/columns.js';
import { outcomesAt } from '../../src/sweep/outcomes.js';
import type { SweepClip } from '../../src/sweep/sweep.js';
import type { Film } from './film.js';

/** A stretch of a film as a clip of its own, as if the recording had begun and ended there; times start at 0. */
export function windowOf(film: Film, start: number, end: number, camera: Camera): SweepClip {
  const from = film.times.findIndex((t) => t >= start - 1e-9);
  const after = film.times.findIndex((t) => t >= end - 1e-9);
  const to = after < 0 ? film.times.length : after;
  const times = film.times.slice(from, to).map((t) => t - start);
  const truth = truthOf(cut(film.labels, start, end), end - start);
  const part = (whole: Columns): Columns =>
    new Map([...whole].map(([level, column]) => [level, column.subarray(from, to)]));
  return {
    times,
    truth,
    outcomes: outcomesAt(times, (time) => photosFor(camera, time), truth),
    columns: async (levels, kind) => part(await film.columns(levels, kind)),
    async bothColumns(levels) {
      const { region, changed } = await film.bothColumns(levels);
      return { region: part(region), changed: part(changed) };
    },
  };
}

function cut(labels: Labels, start: number, end: number): Labels {
  const within = <S extends { start: number; end: number }>(list: readonly S[]): S[] =>
    list
      .filter((s) => s.end > start && s.start < end)
      .map((s) => ({ ...s, start: Math.max(0, s.start - start), end: Math.min(end, s.end) - start }));
  return { version: 1, visits: within(labels.visits), ignored: within(labels.ignored ?? []) };
}
