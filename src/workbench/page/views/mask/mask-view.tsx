import { plural } from '../../../../base/figures.js';
import { type Key, useKeys } from '../../parts/keys.js';
import { OwnMask } from '../../parts/own-mask.js';
import { clip, step } from '../../state/clip.js';
import { redo, redoable, undo, undoable } from '../../state/labels.js';
import { add, back, begin, chosen, close, draft, giveUp, kind, remove, removeAll } from './drawing.js';
import { EffectTold } from './effect-told.js';
import { Picture } from './picture.js';
import './mask.css';

const keys: readonly Key[] = [
  {
    key: 'm',
    what: 'draw a mask: arrows move the cross, space sets a corner, Enter closes',
    act: () => begin('mask'),
  },
  { key: 'f', what: 'draw foliage', act: () => begin('foliage') },
  { key: 'Escape', what: 'give up what is being drawn', act: giveUp },
  { key: 'z', ctrl: true, what: 'undo', act: undo },
  { key: 'z', ctrl: true, shift: true, what: 'redo', act: redo },
];

/** What is not watched, and what can sway: polygons on the picture, and what the mask changes. */
export function MaskView() {
  useKeys('Mask and foliage', keys);
  if (!clip.value) return <p>Choose a clip.</p>;
  const { value: at } = chosen;
  return (
    <section class="masking">
      <h2>Mask and foliage</h2>
      <OwnMask />
      <p>
        A <strong>mask</strong> covers what the camera is not to watch. <strong>Foliage</strong> is what can
        sway: it changes nothing now, but simulated wind moves it, and a wall or a pot within it as well. Draw
        it close round the leaves.
      </p>
      <div class="drawing-bar" role="toolbar" aria-label="Drawing">
        {draft.value ? (
          <>
            <span>
              Drawing {kind.value}, {plural(draft.value.length, 'corner')}: press on the picture, or Space,
              for each; Enter closes it.
            </span>
            <button type="button" disabled={draft.value.length < 3} onClick={close}>
              Close it
            </button>
            <button type="button" disabled={draft.value.length === 0} onClick={back}>
              Last corner back
            </button>
            <button type="button" onClick={giveUp}>
              Give up
            </button>
          </>
        ) : (
          <>
            <button type="button" onClick={() => begin('mask')}>
              Draw a mask
            </button>
            <button type="button" onClick={() => begin('foliage')}>
              Draw foliage
            </button>
            {at && (
              <>
                <button type="button" onClick={() => add(at)}>
                  Add a corner
                </button>
                <button type="button" onClick={() => remove(at)}>
                  Remove the corner
                </button>
                <button type="button" onClick={() => removeAll(at)}>
                  Remove this {at.kind}
                </button>
              </>
            )}
          </>
        )}
        <button type="button" disabled={undoable.value === null} onClick={undo}>
          Undo{undoable.value !== null && `: ${undoable.value}`}
        </button>
        <button type="button" disabled={redoable.value === null} onClick={redo}>
          Redo{redoable.value !== null && `: ${redoable.value}`}
        </button>
      </div>
      <div class="masking-parts">
        <div>
          <Picture />
          <p class="steps">
            <button type="button" aria-label="one second back" onClick={() => step(-second())}>
              ‹
            </button>{' '}
            <button type="button" aria-label="one second on" onClick={() => step(second())}>
              ›
            </button>{' '}
            another picture
          </p>
          <ul class="key">
            <li>
              <span class="swatch where" /> it fired falsely there with nothing masked: the larger, the more
              often
            </li>
            <li>
              <span class="swatch mask" /> mask
            </li>
            <li>
              <span class="swatch foliage" /> foliage
            </li>
          </ul>
          <p class="note">
            Corners can be pulled, or moved with the arrow keys (with Shift further); a adds one after it,
            Delete removes it.
          </p>
        </div>
        <EffectTold />
      </div>
    </section>
  );
}

/** Frames in a second, one at least. */
function second(): number {
  return Math.max(1, Math.round(clip.value?.rate ?? 1));
}
