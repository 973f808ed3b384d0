import { dialsShown } from '../../../../words/dials-shown.js';
import { ClipNotes } from '../../parts/clip-notes.js';
import { Dial } from '../../parts/dial.js';
import { OwnMask } from '../../parts/own-mask.js';
import { SaveSettings } from '../../parts/save-settings.js';
import { Strip } from '../../parts/strip/strip.js';
import { clip } from '../../state/clip.js';
import { evidence } from '../../state/evidence.js';
import { cannotTry } from '../../state/replays.js';
import { noSettings, settings, settingsFileNow, turn } from '../../state/settings.js';
import { workspace } from '../../state/workspace.js';
import { ChangedPicture } from './changed-picture.js';
import './dials.css';
import { Front } from './front-figure.js';
import { PhotoRow } from './photo-row.js';
import { ScorePanel } from './score-panel.js';

/** The camera's dials, and what they do on the open clip as they turn. */
export function DialsView() {
  const open = clip.value;
  const camera = workspace.value?.camera;
  if (!open || !camera) return <p>Choose a clip.</p>;
  const why = cannotTry.value ?? noSettings.value;
  return (
    <section class="dials-view">
      <h2>
        {open.name}, seen by the {camera.name}
      </h2>
      <ClipNotes />
      {why !== null ? (
        <p class="trouble">{why}</p>
      ) : (
        <>
          <Dials />
          <OwnMask />
          {evidence.value.kind === 'none' && (
            <p class="note">The clip was not read, so nothing can be tried.</p>
          )}
          <ScorePanel />
          <Strip />
          <PhotoRow />
          <div class="picture-and-cost">
            <ChangedPicture />
            <Front />
          </div>
          <SaveSettings settings={settingsFileNow.value} id="save-dials" />
        </>
      )}
    </section>
  );
}

function Dials() {
  const [camera, now] = [workspace.value?.camera, settings.value];
  if (!camera || !now) return null;
  return (
    <div class="knobs">
      {dialsShown(camera, now).map((dial) => (
        <Dial key={dial.name} dial={dial} onTurn={(position) => turn({ [dial.name]: position })} />
      ))}
    </div>
  );
}
