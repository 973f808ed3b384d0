import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { type Camera, keepsEvidence } from '../../../../camera/description.js';
import { traitChanges } from '../../../../words/camera-wording.js';
import type { CameraOffered } from '../../../routes/camera.js';
import { ask } from '../../link/api.js';
import { begunWith } from './begun-with.js';
import { isKept, outcome, pixelsOf, set } from './draft.js';
import { fitted } from './fitted.js';

/** A camera that works like the owner's, chosen by what it does, to begin the description from. */
export function BeginWith({ camera }: { camera: Camera }) {
  const offered = useSignal<readonly CameraOffered[]>([]);
  const why = useSignal<string | null>(null);
  const chosen = useSignal<string | null>(null);
  const keepsDials = useSignal(isKept.peek());
  useEffect(() => {
    ask<CameraOffered[]>('api/cameras').then(
      (found) => {
        offered.value = found;
      },
      (error: Error) => {
        why.value = error.message;
      },
    );
  }, []);
  const one = offered.value.find(({ name }) => name === chosen.value);
  const part =
    one &&
    begunWith(
      camera,
      one.camera,
      keepsDials.value,
      offered.value.map((other) => other.camera.name),
    );
  return (
    <details class="begin-with">
      <summary>Begin with a camera that works like yours</summary>
      <fieldset>
        <legend>Which one does what yours does?</legend>
        {offered.value.map(({ name, does, camera: { name: called } }) => (
          <label key={name}>
            <input
              type="radio"
              name="begin-with"
              checked={name === chosen.value}
              onChange={() => {
                chosen.value = name;
              }}
            />{' '}
            <strong>{called}</strong> <span>{does}</span>
          </label>
        ))}
        {why.value !== null && (
          <p class="why" role="alert">
            {why.value}
          </p>
        )}
      </fieldset>
      <p>
        <label>
          <input
            type="checkbox"
            checked={keepsDials.value}
            onChange={({ currentTarget }) => {
              keepsDials.value = currentTarget.checked;
            }}
          />{' '}
          Keep the dials that are described below
        </label>
      </p>
      {part && <Changes was={camera} part={part} />}
      {part && (
        <button
          type="button"
          class="main"
          onClick={() => {
            set(part);
            outcome.value = `Described below as the ${one.camera.name} does it, and not kept yet.`;
          }}
        >
          Describe mine like this
        </button>
      )}
    </details>
  );
}

/** What would be another than it is described now. */
function Changes({ was, part }: { was: Camera; part: Partial<Camera> }) {
  const now = { ...was, ...part };
  const is = { ...now, controls: fitted(now.controls, pixelsOf(now)) };
  const changes = traitChanges(was, is);
  return (
    <div aria-live="polite">
      {changes.length === 0 ? (
        <p>It is described like this already.</p>
      ) : (
        <table>
          <caption>What would change</caption>
          <thead>
            <tr>
              <th scope="col">
                <span class="out-of-sight">of the camera</span>
              </th>
              <th scope="col">now</th>
              <th scope="col">then</th>
            </tr>
          </thead>
          <tbody>
            {changes.map((change) => (
              <tr key={change.what}>
                <th scope="row">{change.what}</th>
                <td>{change.was}</td>
                <td>{change.is}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {!keepsEvidence(is) && (
        <p class="note">
          What it compares with depends on when it fires, so that its dials cannot be tried on this page;
          Answer works.
        </p>
      )}
    </div>
  );
}
