import { plural } from '../../../base/figures.js';
import { presence } from '../link/alive.js';
import { session } from '../state/labels.js';
import type { Conflict } from '../state/merge.js';
import { entryInWords } from './entry-words.js';
import './saved.css';

/** Whether what was done is on disk. */
export function Saved() {
  const now = session.value;
  if (!now) return null;
  const saved = now.saved.value;
  const text = {
    saved: now.there.value ? 'All is saved' : 'Nothing is labelled yet',
    saving: presence.value === 'busy' ? 'Saving, once the program answers' : 'Saving',
    waiting: saved.kind === 'waiting' ? `Not saved yet: ${saved.why}. It is tried again; go on.` : '',
    asked: 'Not saved yet: see below',
  }[saved.kind];
  return (
    <p class="saved note" role="status">
      {text}
    </p>
  );
}

/** What only the owner can decide about labels that are in two versions. */
export function Asked() {
  const now = session.value;
  if (!now) return null;
  const saved = now.saved.value;
  const [left] = now.left.value;
  const told = now.told.value;
  return (
    <>
      {saved.kind === 'asked' && <Choice conflict={saved.conflict} />}
      {left && (
        <section class="asked" aria-label="Unsaved changes">
          <p>
            Changes from {left.when.toLocaleString('en-GB', { dateStyle: 'medium', timeStyle: 'short' })} were
            not on disk when the page was closed.
          </p>
          <button type="button" onClick={() => now.answer(true)}>
            Put them back
          </button>{' '}
          <button type="button" onClick={() => now.answer(false)}>
            Let them go
          </button>
        </section>
      )}
      <div role="status">
        {told !== null && (
          <p class="asked">
            {told}{' '}
            <button
              type="button"
              onClick={() => {
                now.told.value = null;
              }}
            >
              Put away
            </button>
          </p>
        )}
      </div>
    </>
  );
}

function Choice({ conflict }: { conflict: Conflict }) {
  const now = session.value;
  return (
    <section class="asked" aria-label="Changed in two places" role="alert">
      <p>labels.json was changed by somebody else in the same place as here. Which is right?</p>
      <div class="sides">
        {(['mine', 'theirs'] as const).map((side) => (
          <div key={side}>
            <h3>{side === 'mine' ? 'As it is here' : 'As it is in the file'}</h3>
            <ul>
              {inWords(conflict, side).map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
            <button type="button" onClick={() => now?.settle(side)}>
              {side === 'mine' ? 'Keep what is here' : 'Take what is in the file'}
            </button>
          </div>
        ))}
      </div>
    </section>
  );
}

const WHOLES = { mask: 'the mask', foliage: 'what can sway', reviewed: 'what was looked through' };

function inWords(conflict: Conflict, side: 'mine' | 'theirs'): string[] {
  if ('whole' in conflict) {
    const value = conflict[side] as readonly unknown[] | undefined;
    return [
      `${WHOLES[conflict.field]}: ${value === undefined ? (conflict.field === 'reviewed' ? 'all of it' : 'not said') : plural(value.length, 'part')}`,
    ];
  }
  const entries = conflict[side];
  return entries.length === 0 ? ['taken away'] : entries.map((entry) => entryInWords(conflict.field, entry));
}
