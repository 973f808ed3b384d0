import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Camera } from '../../../../camera/description.js';
import type { CameraOffered } from '../../../routes/camera.js';
import { ask } from '../../link/api.js';
import { begunWith } from './begun-with.js';
import { Changes } from './changes.js';
import { isKept, outcome, set } from './draft.js';

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
