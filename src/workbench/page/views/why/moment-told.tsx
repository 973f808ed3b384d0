import { isAdvised, needsText } from '../../../../words/change-wording.js';
import { causeText, modelNote, reasonText, sentence } from '../../../../words/diagnosis-wording.js';
import type { Told } from './diagnosis.js';
import { type Moment, missedOf, triggerOf } from './moments.js';
import { Said } from './said.js';
import { stepTo, take } from './take.js';

/** Why one thing went wrong, in the sentences of terminal and report. */
export function MomentTold({ moment, told: { told, now } }: { moment: Moment; told: Told }) {
  if (moment.kind === 'nothing') {
    const trigger = triggerOf(told, moment);
    return (
      <div class="told">
        {trigger && (
          <p>
            <strong>{sentence(causeText(trigger))}</strong> {sentence(trigger.evidence)}
          </p>
        )}
        <Said time={moment.time} />
        <p class="note">{modelNote}</p>
      </div>
    );
  }
  const missed = missedOf(told, moment);
  if (!missed) return null;
  const step = missed.needs && isAdvised(missed.needs) && stepTo(missed.needs.settings, now);
  return (
    <div class="told">
      <p>
        <strong>{sentence(reasonText(missed))}</strong> {sentence(missed.evidence)}
      </p>
      <p>{needsText(missed.needs, now) || 'Nothing that was tried would have caught it.'}</p>
      {step && (
        <button type="button" onClick={() => take(step)}>
          {step.words}
        </button>
      )}
    </div>
  );
}
