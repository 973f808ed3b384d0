import { trouble } from '../state/trouble.js';

/** What went wrong, until it is put away. */
export function Trouble() {
  return (
    <div role="alert">
      {trouble.value !== null && (
        <p class="trouble">
          {trouble.value}{' '}
          <button
            type="button"
            onClick={() => {
              trouble.value = null;
            }}
          >
            Put away
          </button>
        </p>
      )}
    </div>
  );
}
