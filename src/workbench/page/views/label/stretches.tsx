import { entryInWords } from '../../parts/entry-words.js';
import { caught } from '../../state/caught.js';
import { chosen } from '../../state/chosen.js';
import { change, labels } from '../../state/labels.js';
import { allReviewed, beginningOf, type Kind, listOf } from '../../state/sheet.js';
import { goTo } from './actions.js';

/** All that is marked, to go to and to change. */
export function Stretches() {
  const { reviewed } = labels.value;
  return (
    <div class="lists">
      <section>
        <h3>Visits</h3>
        <List kind="visits" none="None is marked yet." />
      </section>
      <section>
        <h3>Ignored</h3>
        <List kind="ignored" none="Nothing is ignored." />
      </section>
      <section>
        <h3>Looked through</h3>
        {reviewed === undefined ? (
          <p class="note">
            All of it, the labels say: whatever stirs outside the visits counts as nothing. If it was only a
            part, mark that part.
          </p>
        ) : (
          <>
            <p class="note">
              What you play or step through comes here once something is marked. The rest counts neither for
              nor against a setting.
            </p>
            <List kind="reviewed" none="Nothing yet." />
            <button type="button" onClick={() => change('all of it looked through', allReviewed)}>
              All of it was looked through
            </button>
          </>
        )}
      </section>
    </div>
  );
}

function List({ kind, none }: { kind: Kind; none: string }) {
  const list = listOf(labels.value, kind);
  const order = [...list.keys()]
    .filter((at) => beginningOf(list[at]!) === null)
    .sort((a, b) => list[a]!.start - list[b]!.start);
  if (order.length === 0) return <p class="note">{none}</p>;
  return (
    <ol>
      {order.map((at) => (
        <li key={at}>
          <button
            type="button"
            aria-current={chosen.value?.kind === kind && chosen.value.at === at ? 'true' : undefined}
            onClick={() => goTo({ kind, at })}
          >
            {entryInWords(kind, list[at]!)}
            {kind === 'visits' && caught.value[at] === false && (
              <span class="note"> missed by the dials</span>
            )}
          </button>
        </li>
      ))}
    </ol>
  );
}
