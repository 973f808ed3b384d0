import { useRef } from 'preact/hooks';
import './key-list.css';
import { isSign, type Key, keysNow, lettersWork, setLetters, useKeys } from './keys.js';

const NAMES: Record<string, string> = {
  ArrowRight: 'right arrow',
  ArrowLeft: 'left arrow',
  ArrowUp: 'up arrow',
  ArrowDown: 'down arrow',
};

/** The keys that work now, in a panel opened by "?" or by its button. */
export function KeyList() {
  const dialog = useRef<HTMLDialogElement>(null);
  const keys = useRef<readonly Key[]>([
    { key: '?', what: 'this list', act: () => dialog.current?.showModal() },
  ]);
  useKeys('Help', keys.current);
  return (
    <>
      <button type="button" class="small" onClick={() => dialog.current?.showModal()}>
        Keys
      </button>
      <dialog ref={dialog} class="key-list" aria-labelledby="key-list">
        <h2 id="key-list">Keys that work now</h2>
        <div class="groups">
          {keysNow.value.map(({ group, keys: all }) => (
            <section key={group}>
              <h3>{group}</h3>
              <dl>
                {all.map((key) => (
                  <Line key={nameOf(key)} of={key} />
                ))}
              </dl>
            </section>
          ))}
        </div>
        <p>
          <label>
            <input
              type="checkbox"
              checked={lettersWork.value}
              onChange={({ currentTarget }) => setLetters(currentTarget.checked)}
            />{' '}
            Letters and signs work by themselves
          </label>{' '}
          <span class="note">
            Without them every key above that is one has a button; this list is under "Keys".
          </span>
        </p>
        <button type="button" onClick={() => dialog.current?.close()}>
          Close
        </button>
      </dialog>
    </>
  );
}

function Line({ of }: { of: Key }) {
  return (
    <>
      <dt>
        <kbd>{nameOf(of)}</kbd>
      </dt>
      <dd>{of.what}</dd>
    </>
  );
}

/** As it is pressed: 'Shift + v'; a sign that needs Shift anyway is named alone. */
function nameOf(of: Key): string {
  const { key, shift, ctrl } = of;
  return [ctrl && 'Ctrl', shift && !isSign(of) && 'Shift', NAMES[key] ?? key].filter(Boolean).join(' + ');
}
