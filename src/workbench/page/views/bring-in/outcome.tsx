import { clock, figure } from '../../../../base/figures.js';
import { sayOf } from '../../state/about.js';
import { openClip } from '../../state/clip.js';
import { show } from '../../state/shown.js';
import { again, type Stage, stop } from './stage.js';

/** How far it is on its way. */
export function Going({ name, what, share }: { name: string; what: string; share: number | null }) {
  return (
    <div role="status">
      <p>
        {name}: {what}
      </p>
      <progress aria-label={what} {...(share !== null && { value: share })} />
      <p>
        <button type="button" onClick={stop}>
          Stop
        </button>
      </p>
    </div>
  );
}

/** What became of it. */
export function Made({ clip, frames, seconds, notes }: Extract<Stage, { kind: 'made' }>) {
  return (
    <div>
      <p role="status">
        <strong>{clip}</strong> is a clip now: {clock(seconds)} long, {frames} pictures,{' '}
        {figure(frames / seconds)} a second.
      </p>
      {notes.length > 0 && (
        <>
          <h3>What to know of it</h3>
          <ul>
            {notes.map((note) => (
              <li key={note}>{note}</li>
            ))}
          </ul>
        </>
      )}
      <p>
        <button
          type="button"
          class="main"
          onClick={() => {
            void openClip(clip);
            show('label');
          }}
        >
          Look at it
        </button>{' '}
        <button type="button" onClick={() => sayOf(clip)}>
          Say more of it
        </button>{' '}
        <button type="button" onClick={again}>
          Bring in another
        </button>
      </p>
    </div>
  );
}
