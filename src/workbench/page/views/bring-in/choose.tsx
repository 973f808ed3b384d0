import { workspace } from '../../state/workspace.js';
import { dropped } from './dropped.js';
import { take } from './stage.js';

/** Where a recording is dropped or chosen. */
export function Choose({ why }: { why: string | null }) {
  return (
    <fieldset
      class="drop"
      aria-label="Choose a recording"
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        event.preventDefault();
        if (event.dataTransfer)
          void dropped(event.dataTransfer).then(({ files, folder }) => take(files, folder));
      }}
    >
      <p>Drop a video or a folder of pictures here, or choose one:</p>
      <div class="choices">
        <label class="pick">
          <span>A video</span>
          <input
            type="file"
            accept="video/*,.mkv,.h264,.mjpeg,.mts"
            onChange={({ currentTarget }) => void take([...(currentTarget.files ?? [])], '')}
          />
        </label>
        <label class="pick">
          <span>A folder of pictures</span>
          <input
            type="file"
            ref={(input) => input?.setAttribute('webkitdirectory', '')}
            onChange={({ currentTarget }) => {
              const files = [...(currentTarget.files ?? [])];
              // Of folders within the folder nothing is taken.
              const top = files.filter(
                ({ webkitRelativePath }) => webkitRelativePath.split('/').length === 2,
              );
              void take(top, files[0]?.webkitRelativePath.split('/')[0] ?? '');
            }}
          />
        </label>
      </div>
      <p role="alert">{why}</p>
      {workspace.value?.clips.length === 0 && (
        <p>
          What comes then: mark when animals were in view (Look and label, or quicker by pictures in Moments),
          say what your camera is (Camera), and ask what to set (Answer).
        </p>
      )}
      <p class="note">
        It is copied into {workspace.value?.folder} and never leaves this machine; the recording stays as it
        is. Record without a break, through the camera's own lens: what a trigger has cut holds nothing of
        what it missed.
      </p>
    </fieldset>
  );
}
