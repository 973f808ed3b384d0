import { useEffect } from 'preact/hooks';
import { workspace } from '../../state/workspace.js';
import { Choose } from './choose.js';
import './evening.css';
import { Large } from './large.js';
import { NameIt } from './name-it.js';
import type { EveningSession } from './session.js';
import { Sheet } from './sheet.js';
import { again, loadEvenings, stage, stop } from './stage.js';
import { WhatCame } from './what-came.js';

/** The photos that the camera took: what is seen in them, and whether that is as it was promised. */
export function EveningView() {
  useEffect(() => void loadEvenings(), []);
  const now = stage.value;
  if (workspace.value?.folder === null) {
    return (
      <section class="evening">
        <h2>The evening’s photos</h2>
        <p>
          These are the clips of the demo, which took no photos. For those of your own camera, make a folder
          and start the program with its name:
        </p>
        <pre>npx perchmark open my-garden</pre>
      </section>
    );
  }
  return (
    <section class="evening">
      <h2>The evening’s photos</h2>
      {now.kind === 'choose' && <Choose why={now.why} />}
      {now.kind === 'name' && <NameIt photos={now.photos} why={now.why} />}
      {now.kind === 'going' && (
        <div role="status">
          <p>{now.what}</p>
          <progress aria-label={now.what} {...(now.share !== null && { value: now.share })} />
          <p>
            <button type="button" onClick={stop}>
              Stop
            </button>
          </p>
        </div>
      )}
      {now.kind === 'open' && <Open key={now.session.id} session={now.session} />}
    </section>
  );
}

function Open({ session }: { session: EveningSession }) {
  return (
    <>
      <p class="row">
        <strong>{session.id}</strong> <Counts session={session} />{' '}
        <button type="button" onClick={() => again()}>
          Another evening
        </button>
      </p>
      {session.notes.length > 0 && (
        <ul class="note">
          {session.notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
      )}
      <div class="sorting">
        <Large session={session} />
        <Sheet session={session} />
      </div>
      <WhatCame session={session} />
    </>
  );
}

function Counts({ session }: { session: EveningSession }) {
  const { animal, nothing, person, open } = session.counts.value;
  const { length } = session.photos;
  return (
    <span>
      {length - open} of {length} marked: {animal} animal, {nothing} nothing, {person} person.
    </span>
  );
}
