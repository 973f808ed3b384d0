import { plural } from '../../../../base/figures.js';
import { nameProblem } from '../bring-in/chosen.js';
import type { Sent } from '../bring-in/send.js';
import { again, newName, newSpot, send, spots, taken } from './stage.js';

/** What the folder of new photos is to be called. */
export function NameIt({ photos, why }: { photos: Sent[]; why: string | null }) {
  const problem = nameProblem(newName.value, taken());
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        void send(photos);
      }}
    >
      <p>
        {plural(photos.length, 'photo')}, from {photos[0]?.name} to {photos.at(-1)?.name}.
      </p>
      <p role="alert" class="why">
        {why}
      </p>
      <label class="field">
        <span>What to call this evening</span>
        <input
          value={newName.value}
          required
          maxLength={60}
          aria-invalid={problem !== null}
          onInput={({ currentTarget }) => {
            newName.value = currentTarget.value;
          }}
        />
      </label>
      <p role="status" class="why">
        {problem}
      </p>
      {(spots.value?.length ?? 0) > 0 && (
        <label class="field">
          <span>At which spot were they taken?</span>
          <select
            value={newSpot.value}
            onChange={({ currentTarget }) => {
              newSpot.value = currentTarget.value;
            }}
          >
            <option value="">not known</option>
            {spots.value?.map((spot) => (
              <option key={spot} value={spot}>
                {spot}
              </option>
            ))}
          </select>
        </label>
      )}
      <p>
        <button type="submit" class="main" disabled={problem !== null}>
          Copy them here
        </button>{' '}
        <button type="button" onClick={() => again()}>
          Choose others
        </button>
      </p>
    </form>
  );
}
