import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import type { Seen } from '../../../../outing/evening/photo.js';
import { dayText, hourText } from '../../../../words/evening-wording.js';
import { type Key, useKeys } from '../../parts/keys.js';
import { photoAddress } from './addresses.js';
import type { EveningSession } from './session.js';

const SAYS: readonly [Seen, string, string][] = [
  ['animal', 'Animal', 'A'],
  ['nothing', 'Nothing', 'N'],
  ['person', 'Person', 'P'],
];

/** The photo that is looked at, and what is seen in it. */
export function Large({ session }: { session: EveningSession }) {
  const at = session.current.value;
  const photo = session.photos[at]!;
  const seen = session.seen[at]!.value;
  const broken = useSignal<string | null>(null);
  const keys = useMemo<readonly Key[]>(
    () => [
      { key: 'a', what: 'it shows an animal', act: () => session.mark('animal') },
      { key: 'n', what: 'it shows nothing', act: () => session.mark('nothing') },
      { key: 'p', what: 'it shows a person', act: () => session.mark('person') },
      { key: 'Delete', what: 'take its mark away', act: () => session.mark(null) },
      { key: 'u', what: 'undo', act: () => session.undo() },
    ],
    [session],
  );
  useKeys('Evening', keys);
  const address = photoAddress(session.id, photo, true);
  const after = session.photos[at + 1];
  useEffect(() => {
    // The next is there when it is wanted.
    if (after) new Image().src = photoAddress(session.id, after, true);
  }, [after]);
  const burst = session.burstOf(at).length;
  const when = photo.time === null ? 'no time known' : `${dayText(photo.time)}, ${hourText(photo.time)}`;
  return (
    <div class="large">
      {broken.value === address ? (
        <p class="none">This photo is damaged and cannot be shown.</p>
      ) : (
        <img
          src={address}
          alt={`number ${at + 1} of ${session.photos.length}`}
          onError={() => {
            broken.value = address;
          }}
        />
      )}
      <p class="note about">
        <strong>{at + 1}</strong> {when} {burst > 1 && `one of ${burst} in a burst`} <span>{photo.name}</span>
      </p>
      <div class="says">
        {SAYS.map(([value, words, key]) => (
          <button
            type="button"
            key={value}
            class={value}
            aria-pressed={seen === value}
            onClick={() => session.mark(value)}
          >
            {words} <kbd>{key}</kbd>
          </button>
        ))}
      </div>
      <p class="row">
        <button type="button" disabled={!session.canUndo.value} onClick={() => session.undo()}>
          Undo <kbd>U</kbd>
        </button>
        <button type="button" disabled={seen === null} onClick={() => session.mark(null)}>
          No mark
        </button>
        <span class="note" role="status">
          <OnDisk session={session} />
        </span>
      </p>
      <p class="note" role="status">
        {session.told.value}
      </p>
    </div>
  );
}

function OnDisk({ session }: { session: EveningSession }) {
  const now = session.saved.value;
  if (now.kind === 'waiting') return <>Not saved yet: {now.why}. It is tried again; go on.</>;
  if (now.kind === 'saving') return <>saving</>;
  const { open } = session.counts.value;
  return <>{open === session.photos.length ? '' : `saved in ${session.file}`}</>;
}
