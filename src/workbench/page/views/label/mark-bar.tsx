import { saysNothing } from '../../../../score/says-nothing.js';
import { choose } from '../../state/chosen.js';
import { begun, change, labels, redo, redoable, undo, undoable } from '../../state/labels.js';
import { anew, type Kind } from '../../state/sheet.js';
import { mark } from './actions.js';

const BUTTONS: readonly { kind: Kind; begins: string; ends: string }[] = [
  { kind: 'visits', begins: 'A visit begins here', ends: 'The visit ends here' },
  { kind: 'ignored', begins: 'Ignore from here', ends: 'Ignore up to here' },
  { kind: 'reviewed', begins: 'Looked through from here', ends: 'Looked through up to here' },
];

/** Marks begun and ended, taken back and done again. */
export function MarkBar() {
  return (
    <div class="bar">
      {BUTTONS.map(({ kind, begins, ends }) => (
        <button
          type="button"
          key={kind}
          class={begun.value[kind] === undefined ? '' : 'begun'}
          onClick={() => mark(kind)}
        >
          {begun.value[kind] === undefined ? begins : ends}
        </button>
      ))}
      <button type="button" disabled={undoable.value === null} onClick={undo}>
        {undoable.value === null ? 'Undo' : `Undo: ${undoable.value}`}
      </button>
      <button type="button" disabled={redoable.value === null} onClick={redo}>
        {redoable.value === null ? 'Redo' : `Redo: ${redoable.value}`}
      </button>
      <button
        type="button"
        disabled={saysNothing(labels.value)}
        onClick={() => {
          change('the labels begun anew', anew);
          choose(null);
        }}
      >
        Label it anew
      </button>
    </div>
  );
}
