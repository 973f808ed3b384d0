import type { Camera } from '../../../../camera/description.js';
import { keepsEvidence } from '../../../../camera/keeps-evidence.js';
import { traitChanges } from '../../../../words/camera-wording.js';
import { pixelsOf } from './draft.js';
import { fitted } from './fitted.js';

/** What would be another than it is described now. */
export function Changes({ was, part }: { was: Camera; part: Partial<Camera> }) {
  const now = { ...was, ...part };
  const is = { ...now, controls: fitted(now.controls, pixelsOf(now)) };
  const changes = traitChanges(was, is);
  return (
    <div aria-live="polite">
      {changes.length === 0 ? (
        <p>It is described like this already.</p>
      ) : (
        <table>
          <caption>What would change</caption>
          <thead>
            <tr>
              <th scope="col">
                <span class="out-of-sight">of the camera</span>
              </th>
              <th scope="col">now</th>
              <th scope="col">then</th>
            </tr>
          </thead>
          <tbody>
            {changes.map((change) => (
              <tr key={change.what}>
                <th scope="row">{change.what}</th>
                <td>{change.was}</td>
                <td>{change.is}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {!keepsEvidence(is) && (
        <p class="note">
          What it compares with depends on when it fires, so that its dials cannot be tried on this page;
          Answer works.
        </p>
      )}
    </div>
  );
}
