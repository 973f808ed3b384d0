import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { plural } from '../../../../base/figures.js';
import { Working } from '../../parts/working.js';
import { clip } from '../../state/clip.js';
import { droppedWhole } from '../bring-in/dropped.js';
import { isKept } from './draft.js';
import {
  again,
  each,
  evenings,
  type Finding,
  find,
  finding,
  isKnown,
  loadFinding,
  stop,
  take,
  takeEvening,
} from './finding.js';
import { Found } from './found.js';

/** Finds out how the camera works from the photos that it took while a clip was recorded. */
export function FindIt() {
  useEffect(() => void loadFinding(), []);
  const now = finding.value;
  const isOpen = useSignal(false);
  return (
    <details
      class="begin-with find-it"
      open={isOpen.value || now.kind !== 'choose'}
      onToggle={({ currentTarget }) => {
        isOpen.value = currentTarget.open;
      }}
    >
      <summary>Find it by its own photos</summary>
      {now.kind === 'choose' && <Choose why={now.why} />}
      {now.kind === 'ready' && <Ready fired={now.fired} why={now.why} />}
      {now.kind === 'going' && (
        <>
          <Working phase={now.what} share={now.share} left={now.left} onStop={stop} />
          {now.at !== null && <p class="note">{now.at}</p>}
        </>
      )}
      {now.kind === 'found' && <Found found={now.found} />}
    </details>
  );
}

function Choose({ why }: { why: string | null }) {
  return (
    <>
      <p>
        Where nobody knows how your camera compares pictures, its photos tell: record a clip without a break
        while the camera is at work, with the same view, and give the photos that it took meanwhile. What
        fires at the same moments is how it works.
      </p>
      <p class="why" role="alert">
        {why}
      </p>
      {evenings.value.length > 0 && (
        <p class="row">
          Photos of this folder:{' '}
          {evenings.value.map(({ id }) => (
            <button type="button" key={id} onClick={() => takeEvening(id)}>
              {id}
            </button>
          ))}
        </p>
      )}
      <fieldset
        class="drop"
        aria-label="Choose what tells when it fired"
        onDragOver={(event) => event.preventDefault()}
        onDrop={(event) => {
          event.preventDefault();
          if (event.dataTransfer) void droppedWhole(event.dataTransfer).then(({ files }) => take(files));
        }}
      >
        <label class="field">
          <span>The folder of its photos: drop it here, or choose it</span>
          <input
            type="file"
            ref={(input) => input?.setAttribute('webkitdirectory', '')}
            onChange={({ currentTarget }) =>
              take(
                [...(currentTarget.files ?? [])].map((file) => ({
                  file,
                  path: file.webkitRelativePath.split('/').slice(1).join('/'),
                })),
              )
            }
          />
        </label>
        <label class="field">
          <span>Or a list of the times at which it fired (CSV, one a line)</span>
          <input
            type="file"
            accept=".csv,.txt,.json"
            onChange={({ currentTarget }) =>
              take([...(currentTarget.files ?? [])].map((file) => ({ file, path: file.name })))
            }
          />
        </label>
        <p class="note">
          Photos are looked at for when they were taken alone; of a JPEG only the beginning is sent. Nothing
          is kept of it.
        </p>
      </fieldset>
    </>
  );
}

function Ready({ fired, why }: Omit<Extract<Finding, { kind: 'ready' }>, 'kind'>) {
  const open = clip.value;
  const what = {
    photos: () => (fired.kind === 'photos' ? plural(fired.files.length, 'photo') : ''),
    list: () => (fired.kind === 'list' ? `the times in ${fired.files[0]!.name}` : ''),
    evening: () => (fired.kind === 'evening' ? `the photos in ${fired.id}` : ''),
  }[fired.kind]();
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        if (open) void find(open.id, fired);
      }}
    >
      <p class="why" role="alert">
        {why}
      </p>
      <p>
        {open ? (
          <>
            Held against {what}: the clip <strong>{open.name}</strong>, which is open. It must have been
            recorded without a break while the camera took them.
          </>
        ) : (
          `Open the clip that was recorded while the camera fired; it is held against ${what}.`
        )}
      </p>
      <p>
        <label class="number">
          <input
            type="number"
            min={1}
            max={1000}
            step={1}
            value={each.value ?? ''}
            onInput={({ currentTarget: { value, valueAsNumber } }) => {
              each.value = value === '' ? null : valueAsNumber;
            }}
          />{' '}
          photos a trigger (left empty: as they show themselves)
        </label>
      </p>
      {isKept.value && (
        <p>
          <label>
            <input
              type="checkbox"
              checked={isKnown.value}
              onChange={({ currentTarget }) => {
                isKnown.value = currentTarget.checked;
              }}
            />{' '}
            The size of its pictures and its dials are as I kept them
          </label>
        </p>
      )}
      <p>
        <button type="submit" class="main" disabled={!open}>
          Find my camera
        </button>{' '}
        <button type="button" onClick={again}>
          Choose others
        </button>
      </p>
    </form>
  );
}
