import { workspace } from '../../state/workspace.js';
import { droppedWhole } from '../bring-in/dropped.js';
import { evenings, open, take } from './stage.js';

/** An evening that is in the folder, or photos from the camera's card. */
export function Choose({ why }: { why: string | null }) {
  return (
    <>
      <p>
        Mark what your camera really saw, and see how many of its photos show animals, and whether photos of
        nothing came as often as was promised.
      </p>
      <p role="alert" class="why">
        {why}
      </p>
      {evenings.value.length > 0 && (
        <>
          <h3>In this folder</h3>
          <ul class="evenings">
            {evenings.value.map(({ id, marked, site, problem }) => (
              <li key={id}>
                <button type="button" disabled={problem !== null} onClick={() => void open(id)}>
                  <strong>{id}</strong>
                </button>{' '}
                <span class="note">
                  {problem ?? [site, marked ? 'marks are there' : 'not marked'].filter(Boolean).join(', ')}
                </span>
              </li>
            ))}
          </ul>
        </>
      )}
      <h3>From the camera’s card</h3>
      <fieldset
        class="drop"
        aria-label="Choose photos"
        onDragOver={(event) => event.preventDefault()}
        onDrop={(event) => {
          event.preventDefault();
          if (event.dataTransfer)
            void droppedWhole(event.dataTransfer).then(({ files, folder }) => take(files, folder));
        }}
      >
        <label class="pick">
          <span>Drop the folder of photos here, or choose it</span>
          <input
            type="file"
            ref={(input) => input?.setAttribute('webkitdirectory', '')}
            onChange={({ currentTarget }) => {
              const files = [...(currentTarget.files ?? [])];
              take(
                files.map((file) => ({ file, path: file.webkitRelativePath.split('/').slice(1).join('/') })),
                files[0]?.webkitRelativePath.split('/')[0] ?? '',
              );
            }}
          />
        </label>
        <p class="note">
          They are copied into {workspace.value?.folder}, and those on the card stay as they are; nothing
          leaves this machine.
        </p>
      </fieldset>
    </>
  );
}
