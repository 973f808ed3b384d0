import { clock } from '../../../../base/figures.js';
import { begun } from '../../state/labels.js';
import { KINDS } from '../../state/sheet.js';
import { forget, goToBegun, mark, NAMES } from './actions.js';

/** What has begun and not ended, now or when the clip was looked at last, and what can be done about it. */
export function Begun() {
  return (
    <div role="status">
      {KINDS.map((kind) => {
        const start = begun.value[kind];
        if (start === undefined) return null;
        return (
          <p key={kind} class="unended">
            <strong>
              {clock(start, 1)}: {NAMES[kind].one} begins here, and its end is not marked yet.
            </strong>{' '}
            Until it is, it does not count.{' '}
            <button type="button" class="small" onClick={() => goToBegun(kind)}>
              Go there
            </button>{' '}
            <button type="button" class="small" onClick={() => mark(kind)}>
              It ends at the frame shown
            </button>{' '}
            <button type="button" class="small" onClick={() => forget(kind)}>
              Let it go
            </button>
          </p>
        );
      })}
    </div>
  );
}
