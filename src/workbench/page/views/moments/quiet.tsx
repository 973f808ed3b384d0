import { signal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import { clock } from '../../../../base/figures.js';
import { nearestPlace } from '../../../../base/nearest.js';
import type { Stretch } from '../../../../score/stretches.js';
import { withFound } from '../../../../tune/moments/visits.js';
import { missedWording, quietWording } from '../../../../words/moments-wording.js';
import { pictureAddress } from '../../link/pictures.js';
import { type Key, useKeys } from '../../parts/keys.js';
import { clip } from '../../state/clip.js';
import { change, labels } from '../../state/labels.js';
import { asked } from './asked.js';
import { spacedOver } from './spaced.js';

/** Seconds from one picture of a stretch to the next: a visit that is shorter may slip between two. */
const APART = 1;

/** Times of the pictures that show an animal. */
const withAnimal = signal<ReadonlySet<number>>(new Set());

/** A quiet stretch drawn at random, to look through, and what those looked through tell of the rest. */
export function Quiet() {
  const [open, now] = [clip.value, asked.value];
  const place = now?.quiet.order[0];
  const stretch = place === undefined ? undefined : now?.quiet.stretches[place];
  const keys = useMemo<readonly Key[]>(
    () => [{ key: 'k', what: 'no animal in the quiet stretch', act: () => done(stretch) }],
    [stretch?.start, stretch?.end],
  );
  useKeys('Quiet stretches', keys);
  if (!open || !now) return null;
  const { looked } = now.quiet;
  const visits = labels.value.visits.filter(({ type }) => type === 'animal').length;
  const missed = missedWording(visits, looked);
  return (
    <section class="quiet" aria-labelledby="quiet-title">
      <h3 id="quiet-title">Quiet stretches</h3>
      <p>{quietWording(looked)}</p>
      {missed !== null && <p>{missed}</p>}
      {stretch === undefined ? (
        looked.all > 0 && <p class="note">Every quiet stretch has been looked through.</p>
      ) : (
        <>
          <p class="note">
            Drawn at random: {clock(stretch.start, 1)}–{clock(stretch.end, 1)}, one picture a second; a visit
            shorter than that may slip between two. Tick every picture with an animal in it.
          </p>
          <div class="film">
            {spacedOver(stretch, APART).map((time) => (
              <label key={time}>
                <img
                  src={pictureAddress(open, nearestPlace(open.times, time), { shown: 320 })}
                  width={open.width}
                  height={open.height}
                  alt=""
                />
                <span class="note">
                  <input
                    type="checkbox"
                    checked={withAnimal.value.has(time)}
                    onChange={({ currentTarget }) => mark(time, currentTarget.checked)}
                  />{' '}
                  {clock(time, 1)}
                </span>
              </label>
            ))}
          </div>
          <p class="answers">
            <button type="button" disabled={withAnimal.value.size > 0} onClick={() => done(stretch)}>
              × nothing here <kbd>K</kbd>
            </button>{' '}
            <button type="button" disabled={withAnimal.value.size === 0} onClick={() => done(stretch)}>
              ● an animal in the ticked ones
            </button>
          </p>
        </>
      )}
    </section>
  );
}

function mark(time: number, on: boolean): void {
  const next = new Set(withAnimal.value);
  if (on) next.add(time);
  else next.delete(time);
  withAnimal.value = next;
}

/** Keeps that a stretch was looked through, with what was ticked in it. */
function done(stretch: Stretch | undefined): void {
  if (!stretch) return;
  const times = spacedOver(stretch, APART);
  const half = (stretch.end - stretch.start) / times.length / 2;
  const visits = runsOf(times, withAnimal.value).map(([first, last]) => ({
    start: tidy(Math.max(stretch.start, first - half)),
    end: tidy(Math.min(stretch.end, last + half)),
  }));
  const what = visits.length > 0 ? 'an animal in a quiet stretch' : 'a quiet stretch looked through';
  change(what, (now) => withFound(now, [stretch], visits, 'animal'));
  withAnimal.value = new Set();
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

/** Whole milliseconds, as a person would write them. */
function tidy(time: number): number {
  return Number(time.toFixed(3));
}
