import type { Stretch } from '../../../../score/stretches.js';
import { tidy, withFound } from '../../../../tune/moments/visits.js';
import { change } from '../../state/labels.js';
import { OfClip } from '../../state/of-clip.js';
import { picturesOfStretch } from './spaced.js';

/** Times of the pictures that show an animal, of the stretch that begins at `of`. */
const held = new OfClip<{ of: number; times: ReadonlySet<number> }>({ of: -1, times: new Set() });

export function tickedOf(stretch: Stretch | undefined): ReadonlySet<number> {
  const { of, times } = held.value;
  return stretch && of === stretch.start ? times : new Set();
}

export function tick(stretch: Stretch, time: number, on: boolean): void {
  const times = new Set(tickedOf(stretch));
  if (on) times.add(time);
  else times.delete(time);
  held.value = { of: stretch.start, times };
}

/**
 * Keeps that a stretch was looked through, with what was ticked in it.
 * @param as what is said of it: what the ticks do not bear out changes nothing
 */
export function looked(stretch: Stretch | undefined, as: 'nothing' | 'animal'): void {
  const ticked = tickedOf(stretch);
  if (!stretch || (as === 'nothing') !== (ticked.size === 0)) return;
  const times = picturesOfStretch(stretch);
  const half = (stretch.end - stretch.start) / times.length / 2;
  const visits = runsOf(times, ticked).map(([first, last]) => ({
    start: tidy(Math.max(stretch.start, first - half)),
    end: tidy(Math.min(stretch.end, last + half)),
  }));
  const what = visits.length > 0 ? 'an animal in a quiet stretch' : 'a quiet stretch looked through';
  change(what, (now) => withFound(now, [stretch], visits, 'animal'));
}

/** First and last of those in a row. */
function runsOf(times: readonly number[], chosen: ReadonlySet<number>): [number, number][] {
  const runs: [number, number][] = [];
  times.forEach((time, i) => {
    if (!chosen.has(time)) return;
    if (i > 0 && chosen.has(times[i - 1]!)) runs.at(-1)![1] = time;
    else runs.push([time, time]);
  });
  return runs;
}
