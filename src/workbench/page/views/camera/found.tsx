import {
  agreementText,
  asGivenText,
  besidesFound,
  equallyGoodText,
  fitHeadline,
  foundRows,
} from '../../../../words/fit-wording.js';
import type { CameraFound } from '../../../fit-protocol.js';
import { SaveSettings } from '../../parts/save-settings.js';
import { Changes } from './changes.js';
import { draft, isKept, outcome, set } from './draft.js';
import { again } from './finding.js';
import { takenOver } from './taken-over.js';

/** The camera that fires as the owner's did, and how sure that is. */
export function Found({ found }: { found: CameraFound }) {
  const { result, warnings } = found;
  const { settings, tells, record, assumed, notes } = result;
  const besides = besidesFound(result);
  const part = takenOver(found, isKept.value ? draft.value : null);
  const asGiven = asGivenText(result);
  const lines = [...warnings, ...assumed, ...notes];
  return (
    <div class="found">
      <p role="status">
        <strong>{fitHeadline(result)}.</strong> {agreementText(result)}
      </p>
      <table>
        <caption>What was found</caption>
        <tbody>
          {foundRows(result).map(([name, value]) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>{value}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {asGiven !== null && <p>{asGiven}</p>}
      {record !== null && <p>What would tell more: {record}</p>}
      {besides.length > 0 && (
        <details>
          <summary>As good as that ({besides.length})</summary>
          <ul>
            {besides.map((one) => (
              <li key={equallyGoodText(one)}>{equallyGoodText(one)}</li>
            ))}
          </ul>
        </details>
      )}
      {lines.length > 0 && (
        <details class="note">
          <summary>What to know of it ({lines.length})</summary>
          <ul>
            {lines.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </details>
      )}
      {draft.value && <Changes was={draft.value} part={part} />}
      <p class="row">
        <button
          type="button"
          class="main"
          onClick={() => {
            set(part);
            outcome.value =
              tells === 'too few'
                ? 'Described below as it was found, by too few photos to rely on it; not kept yet.'
                : 'Described below as it was found, and not kept yet.';
          }}
        >
          Use this camera
        </button>
        <button type="button" onClick={again}>
          Find it anew
        </button>
      </p>
      {tells !== 'too few' && <SaveSettings settings={{ version: 1, ...settings }} id="save-fitted" />}
    </div>
  );
}
