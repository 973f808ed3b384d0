import type { MaskingTold } from '../../../diagnosis-protocol.js';
import { evidence } from '../../state/evidence.js';
import { labels } from '../../state/labels.js';
import { masking } from './effect.js';
import { inWords } from './in-words.js';

/** Visits and false triggers with the mask and without. */
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
      {told && (
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
              <th scope="row">false triggers</th>
              <td>{told.without.score.falseTriggers}</td>
              <td>{told.withIt.score.falseTriggers}</td>
            </tr>
          </tbody>
        </table>
      )}
      {told && busy === null && <p>{inWords(told, (labels.value.mask ?? []).length > 0)}</p>}
    </section>
  );
}

function caught({ score }: MaskingTold['without']): string {
  return `${score.caught} of ${score.visits}`;
}
