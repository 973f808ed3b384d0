import { causeTold } from '../../../../score/cause-told.js';
import { causeNames } from '../../../../score/labels.js';
import { causeWords } from '../../../../words/diagnosis-wording.js';
import { clip } from '../../state/clip.js';
import { change, labels } from '../../state/labels.js';
import { withCause } from './corrections.js';

const words = { ...causeWords, unknown: 'something else' };

/** What the owner says it was, which counts for more than what the model says. */
export function Said({ time }: { time: number }) {
  const seconds = clip.value?.seconds ?? time;
  const said = causeTold(labels.value.causes, time);
  return (
    <fieldset class="said">
      <legend>You know better? It was</legend>
      {causeNames.map((cause) => (
        <button
          type="button"
          key={cause}
          aria-pressed={said === cause}
          onClick={() =>
            change(said === cause ? 'a cause taken back' : `a cause told: ${words[cause]}`, (now) =>
              withCause(now, time, said === cause ? null : cause, seconds),
            )
          }
        >
          {words[cause]}
        </button>
      ))}
      <p class="note">
        Kept with your labels. Say it where the model was right, too: what it learns from is what you say.
      </p>
    </fieldset>
  );
}
