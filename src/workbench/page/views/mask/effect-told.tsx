import { isTold, timesText, unlabelledText } from '../../../../words/score-wording.js';
import type { MaskingTold } from '../../../diagnosis-protocol.js';
import { VisitButtons } from '../../parts/visit-buttons.js';
import { showTime } from '../../state/clip.js';
import { evidence } from '../../state/evidence.js';
import { labels } from '../../state/labels.js';
import { photosPerTrigger } from '../../state/workspace.js';
import { masking } from './effect.js';
import { inWords } from './in-words.js';
import { visitsChanged } from './visits-changed.js';

/** Visits, and how often it fired at nothing, with the mask and without. */
export function EffectTold() {
  const { told, phase, share, trouble } = masking.value;
  const reading = evidence.value.kind === 'reading' ? evidence.value.share : null;
  const busy = reading !== null ? 'reading the clip under this mask' : phase;
  return (
    <section class="effect">
      <h3>What the mask changes</h3>
      <div role="status">
        {busy !== null && (
          <p>
            {busy}
            <progress aria-label="how far" value={reading ?? share ?? undefined} />
          </p>
        )}
        {trouble !== null && <p>{trouble}</p>}
      </div>
      {told && !isTold(told.without.score) && <p>{unlabelledText}</p>}
      {told && isTold(told.without.score) && (
        <table aria-busy={busy !== null}>
          <thead>
            <tr>
              <th scope="col">this clip, dials as they stand</th>
              <th scope="col">without</th>
              <th scope="col">with the mask</th>
            </tr>
          </thead>
          <tbody>
            <tr>
              <th scope="row">visits caught</th>
              <td>{caught(told.without)}</td>
              <td>{caught(told.withIt)}</td>
            </tr>
            <tr>
              <th scope="row">fired at nothing</th>
              <td>{fired(told.without)}</td>
              <td>{fired(told.withIt)}</td>
            </tr>
          </tbody>
        </table>
      )}
      {told && isTold(told.without.score) && busy === null && (
        <>
          <p>{inWords(told, (labels.value.mask ?? []).length > 0, photosPerTrigger())}</p>
          <Changed told={told} />
        </>
      )}
    </section>
  );
}

/** Which visits a mask costs, and which it brings, each to be looked at on the picture. */
function Changed({ told }: { told: MaskingTold }) {
  const { lost, gained } = visitsChanged(told);
  const go = ({ start }: { start: number }) => showTime(start);
  return (
    <>
      <VisitButtons what="Lost:" visits={lost} onGo={go} />
      <VisitButtons what="Gained:" visits={gained} onGo={go} />
    </>
  );
}

function caught({ score }: MaskingTold['without']): string {
  return score.visits > 0 ? `${score.caught} of ${score.visits}` : 'no visit is marked';
}

function fired({ score }: MaskingTold['without']): string {
  return score.watchedHours > 0
    ? timesText(score.falseTriggers, photosPerTrigger())
    : 'no time looked through is without visits';
}
