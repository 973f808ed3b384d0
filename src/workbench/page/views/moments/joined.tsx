import { clock } from '../../../../base/figures.js';
import { joinsNow, keepApart } from './sheet.js';

/** Which visits the last answer made of several, how long they are, and the way to keep them apart. */
export function Joined() {
  const joins = joinsNow();
  if (joins.length === 0) return null;
  return (
    <div role="status">
      {joins.map(({ start, end, of }) => (
        <p key={start}>
          {of} of them with little rest between are taken for one visit of {Number((end - start).toFixed(1))}{' '}
          s, {clock(start, 1)}–{clock(end, 1)}: longer is caught more easily.
        </p>
      ))}
      <p>
        <button type="button" onClick={keepApart}>
          No, {joins.length === 1 ? 'keep them apart' : 'keep all of them apart'}
        </button>
      </p>
    </div>
  );
}
