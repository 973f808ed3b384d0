import { useEffect } from 'preact/hooks';
import { dialsText } from '../../../../words/wording.js';
import { Working } from '../../parts/working.js';
import { asking, isStale, stopAsking } from '../../state/answer.js';
import { loadWorkspace, workspace } from '../../state/workspace.js';
import './answer.css';
import { SiteAnswer } from './site-answer.js';
import { TakeAlong } from './take-along.js';
import { WishForm } from './wish-form.js';

/** What should I use? */
export function AnswerView() {
  const camera = workspace.value?.camera;
  // What was labelled since the folder was opened counts.
  useEffect(() => void loadWorkspace(), []);
  if (!camera) return null;
  return (
    <section class="answer">
      <h2>What should I use?</h2>
      <WishForm camera={camera} />
      <State />
    </section>
  );
}

function State() {
  const now = asking.value;
  const camera = workspace.value?.camera;
  switch (now.kind) {
    case 'none':
      return null;
    case 'working':
      return <Working phase={now.phase} share={now.share} onStop={stopAsking} />;
    case 'stopped':
      return <p role="status">Stopped. What was read is kept, so that asking again is quicker.</p>;
    case 'refused':
      return (
        <p class="trouble" role="alert">
          {now.why}
        </p>
      );
    case 'answered': {
      if (!camera) return null;
      const { answered, notes } = now;
      return (
        <>
          {isStale.value && (
            <p class="trouble" role="status">
              Labels or the camera have been changed since this was worked out: work it out again.
            </p>
          )}
          {answered.sites.map((site, place) => (
            <SiteAnswer key={site.site ?? dialsText(site.recommended.controls)} site={site} camera={camera}>
              <TakeAlong answered={answered} site={site} place={place} camera={camera} />
            </SiteAnswer>
          ))}
          {notes.length > 0 && (
            <details class="note">
              <summary>What to know of the clips ({notes.length})</summary>
              <ul>
                {notes.map((note) => (
                  <li key={note}>{note}</li>
                ))}
              </ul>
            </details>
          )}
        </>
      );
    }
  }
}
