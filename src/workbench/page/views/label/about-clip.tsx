import { useEffect, useRef } from 'preact/hooks';
import { AskThen } from '../../parts/ask-then.js';
import { thenProblem, unsaidOf } from '../../parts/then.js';
import { about, isAsked, loadAbout, saveAbout, setAbout } from '../../state/about.js';
import { clip } from '../../state/clip.js';

/** What is known of the open clip beside its pictures: said, or put right. */
export function AboutClip() {
  const id = clip.value?.id;
  const box = useRef<HTMLDetailsElement>(null);
  useEffect(() => {
    if (id !== undefined) void loadAbout(id);
  }, [id]);
  const now = about.value;
  const isHere = now !== null && now.clip === id;
  useEffect(() => {
    if (!isHere || !isAsked.value || !box.current) return;
    isAsked.value = false;
    box.current.open = true;
    box.current.scrollIntoView();
    box.current.querySelector('input')?.focus();
  }, [isHere, isAsked.value]);
  if (!isHere || now.state.drawn) return null;
  const { state, site, recorded, said } = now;
  const unsaid = unsaidOf(state.about);
  return (
    <details class="about" ref={box}>
      <summary>
        About this clip{unsaid.length > 0 && <span class="note">: not said yet: {unsaid.join(', ')}</span>}
      </summary>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void saveAbout();
        }}
      >
        {state.project === null ? (
          <label class="spot">
            <span>Where the camera hung (clips of one spot are tuned together)</span>
            <input
              value={site}
              maxLength={60}
              onInput={({ currentTarget }) => setAbout({ site: currentTarget.value })}
            />
          </label>
        ) : (
          <p class="note">Recorded at {state.project}, as perchmark.json has it.</p>
        )}
        <AskThen value={recorded} onChange={(value) => setAbout({ recorded: value })} />
        <p class="bar">
          <button type="submit" class="main" disabled={thenProblem(recorded) !== null}>
            Save what is said of it
          </button>
          <span role="status">{said}</span>
        </p>
      </form>
    </details>
  );
}
