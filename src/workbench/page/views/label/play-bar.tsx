import { clock } from '../../../../base/figures.js';
import { clip, time } from '../../state/clip.js';
import { playing, SPEEDS, speed } from '../../state/play.js';
import { playOrStop, stepLooking } from './actions.js';

/** Play, step, and how fast. */
export function PlayBar() {
  const seconds = clip.value?.seconds ?? 0;
  return (
    <div class="bar">
      <button type="button" onClick={playOrStop}>
        {playing.value ? 'Stop' : 'Play'}
      </button>
      <button type="button" onClick={() => stepLooking(-1)}>
        A frame back
      </button>
      <button type="button" onClick={() => stepLooking(1)}>
        A frame on
      </button>
      <label>
        Speed{' '}
        <select
          value={String(speed.value)}
          onChange={(event) => {
            speed.value = Number(event.currentTarget.value);
          }}
        >
          {SPEEDS.map((times) => (
            <option key={times} value={String(times)}>
              {times === 1 ? 'as it was' : times < 1 ? `${1 / times} times slower` : `${times} times faster`}
            </option>
          ))}
        </select>
      </label>
      <output class="now">
        {clock(time.value, 1)} <span class="note">of {clock(seconds, 1)}</span>
      </output>
    </div>
  );
}
