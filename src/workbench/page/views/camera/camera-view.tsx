import { useEffect } from 'preact/hooks';
import { BeginWith } from './begin-with.js';
import './camera.css';
import { DialTable } from './dial-table.js';
import { changed, draft, giveUp, isKept, keep, load, misfit, outcome } from './draft.js';
import { FindIt } from './find-it.js';
import { Questions } from './questions.js';

/** The camera, described by questions that its owner can answer. */
export function CameraView() {
  useEffect(() => {
    if (!draft.value) void load();
  }, []);
  const camera = draft.value;
  if (!camera) return <p role="status">Looking for the camera.</p>;
  return (
    <section class="camera">
      <h2>The camera</h2>
      <p>
        {isKept.value
          ? 'This is what camera.json says of your camera.'
          : 'Nothing is known of your camera yet, so a common one stands in. Change what is different on yours; what you do not know, leave.'}
      </p>
      <BeginWith camera={camera} />
      <FindIt />
      <Questions camera={camera} />
      <DialTable camera={camera} />
      <div class="keeping">
        {misfit.value !== null && (
          <p class="why" role="alert">
            {misfit.value}
          </p>
        )}
        <button
          type="button"
          class="main"
          disabled={misfit.value !== null || !changed.value}
          onClick={() => void keep()}
        >
          Keep it
        </button>{' '}
        <button type="button" disabled={!changed.value} onClick={giveUp}>
          As it was
        </button>
        <p role="status">{outcome.value ?? (changed.value ? 'Not kept yet.' : null)}</p>
      </div>
    </section>
  );
}
