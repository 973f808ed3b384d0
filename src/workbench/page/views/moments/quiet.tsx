import { useMemo } from 'preact/hooks';
import { clock } from '../../../../base/figures.js';
import { nearestPlace } from '../../../../base/nearest.js';
import { missedWording, quietWording } from '../../../../words/moments-wording.js';
import { pictureAddress } from '../../link/pictures.js';
import { type Key, useKeys } from '../../parts/keys.js';
import { clip } from '../../state/clip.js';
import { labels } from '../../state/labels.js';
import { asked } from './asked.js';
import { picturesOfStretch } from './spaced.js';
import { looked, tick, tickedOf } from './ticks.js';

/** A quiet stretch drawn at random, to look through, and what those looked through tell of the rest. */
export function Quiet() {
  const [open, now] = [clip.value, asked.value];
  const place = now?.quiet.order[0];
  const stretch = place === undefined ? undefined : now?.quiet.stretches[place];
  const keys = useMemo<readonly Key[]>(
    () => [{ key: 'k', what: 'no animal in the quiet stretch', act: () => looked(stretch, 'nothing') }],
    [stretch?.start, stretch?.end],
  );
  useKeys('Quiet stretches', keys);
  if (!open || !now) return null;
  const { looked: sample } = now.quiet;
  const visits = labels.value.visits.filter(({ type }) => type === 'animal').length;
  const missed = missedWording(visits, sample);
  const ticked = tickedOf(stretch);
  return (
    <section class="quiet" aria-labelledby="quiet-title">
      <h3 id="quiet-title">Quiet stretches</h3>
      <p>{quietWording(sample)}</p>
      {missed !== null && <p>{missed}</p>}
      {stretch === undefined ? (
        sample.all > 0 && <p class="note">Every quiet stretch has been looked through.</p>
      ) : (
        <>
          <p class="note">
            Drawn at random: {clock(stretch.start, 1)}–{clock(stretch.end, 1)}, one picture a second; a visit
            shorter than that may slip between two. Tick every picture with an animal in it.
          </p>
          <div class="film">
            {picturesOfStretch(stretch).map((time) => (
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
                    checked={ticked.has(time)}
                    onChange={({ currentTarget }) => tick(stretch, time, currentTarget.checked)}
                  />{' '}
                  {clock(time, 1)}
                </span>
              </label>
            ))}
          </div>
          <p class="answers">
            <button type="button" disabled={ticked.size > 0} onClick={() => looked(stretch, 'nothing')}>
              × nothing here <kbd>K</kbd>
            </button>{' '}
            <button type="button" disabled={ticked.size === 0} onClick={() => looked(stretch, 'animal')}>
              ● an animal in the ticked ones
            </button>
          </p>
        </>
      )}
    </section>
  );
}
