import type { Cure } from '../../../../diagnose/diagnosis.js';
import type { Polygon } from '../../../../engine/mask.js';
import { addedTo, cureText, onAllText, provedText } from '../../../../words/change-wording.js';
import { causeWords, practiceNote } from '../../../../words/diagnosis-wording.js';
import type { Told } from './diagnosis.js';
import { stepTo, take } from './take.js';

/** What would help: cures with what they do, each one press away, and what is common practice. */
export function Helps({
  told: { told, now },
  look,
}: {
  told: Told;
  look: (mask: readonly Polygon[]) => void;
}) {
  return (
    <section class="helps">
      <h3>What would help on this clip, first what loses no visit</h3>
      {told.notes.map((note) => (
        <p key={note}>{note}</p>
      ))}
      <ol>
        {told.cures.map((cure) => (
          <CureLine key={cureText(cure, now)} cure={cure} now={now} look={look} />
        ))}
      </ol>
      {told.advice.length > 0 && (
        <details>
          <summary>What helps at the camera itself</summary>
          <p class="note">{practiceNote}</p>
          <dl>
            {told.advice.map(({ cause, practice, care }) => (
              <div key={cause}>
                <dt>{causeWords[cause]}</dt>
                <dd>
                  {practice.join(' ')}
                  {care.length > 0 && <strong> Take care: {care.join(' ')}</strong>}
                </dd>
              </div>
            ))}
          </dl>
        </details>
      )}
    </section>
  );
}

function CureLine({
  cure,
  now,
  look,
}: {
  cure: Cure;
  now: Told['now'];
  look: (mask: readonly Polygon[]) => void;
}) {
  const step = stepTo(cure.settings, now);
  const shapes = addedTo(now.mask, cure.settings.mask);
  return (
    <li onMouseEnter={() => look(shapes)} onMouseLeave={() => look([])}>
      <strong>{cureText(cure, now)}</strong>
      <span>On all of it: {onAllText(cure)}.</span>
      <span class="note">On the half it was not chosen on: {provedText(cure)}.</span>
      {step ? (
        <button
          type="button"
          onFocus={() => look(shapes)}
          onBlur={() => look([])}
          onClick={() => {
            look([]);
            take(step);
          }}
        >
          {step.words}
        </button>
      ) : (
        <span class="note">No dial of your camera stands there.</span>
      )}
    </li>
  );
}
