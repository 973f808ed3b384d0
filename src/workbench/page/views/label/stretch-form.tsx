import { useRef } from 'preact/hooks';
import { type Visit, visitTypes } from '../../../../score/labels.js';
import { spanInWords, TYPES } from '../../parts/entry-words.js';
import { chosen } from '../../state/chosen.js';
import { change, labels, namesUsed } from '../../state/labels.js';
import { sayOfVisit, sayWhy } from '../../state/sheet.js';
import { framing, NAMES, nudge, removeChosen, setHere } from './actions.js';

/** The most that labels.json takes. */
const MOST = 1_000_000;

/** What is said of the chosen visit or stretch, and its ends. */
export function StretchForm() {
  const what = chosen.value;
  const stretch = what && labels.value[what.kind]?.[what.at];
  if (!what || !stretch) {
    return <p class="note">Choose a visit in the strip or in the list to change it.</p>;
  }
  const { which } = NAMES[what.kind];
  return (
    <form
      class="card"
      aria-label={`Of ${which}`}
      onSubmit={(event) => event.preventDefault()}
      onKeyDown={(event) => {
        const field = event.target as HTMLElement;
        const leaves = event.key === 'Escape' || (event.key === 'Enter' && field instanceof HTMLInputElement);
        if (!leaves || field instanceof HTMLButtonElement) return;
        event.preventDefault();
        field.blur();
      }}
    >
      <h3>{spanInWords(stretch)}</h3>
      {what.kind === 'visits' && <VisitFields at={what.at} visit={labels.value.visits[what.at]!} />}
      {what.kind === 'ignored' && <Why at={what.at} why={labels.value.ignored?.[what.at]?.why ?? ''} />}
      <Ends />
      <button type="button" onClick={removeChosen}>
        Delete {which}
      </button>
    </form>
  );
}

function Ends() {
  return (
    <div class="ends">
      {(['start', 'end'] as const).map((edge) => (
        <fieldset key={edge}>
          <legend>{edge === 'start' ? 'Start' : 'End'}</legend>
          <button type="button" class="small" onClick={() => nudge(edge, -1)}>
            a frame earlier
          </button>
          <button type="button" class="small" onClick={() => nudge(edge, 1)}>
            a frame later
          </button>
          <button type="button" class="small" onClick={() => setHere(edge)}>
            here
          </button>
        </fieldset>
      ))}
    </div>
  );
}

let goes = 0;

/** Names one go at a field, from entering it to leaving it, for it is undone as one. */
function useGo(): { go: () => string; enter: () => void } {
  const go = useRef('');
  const enter = () => {
    go.current = `typed ${++goes}`;
  };
  return { go: () => go.current, enter };
}

function VisitFields({ at, visit }: { at: number; visit: Visit }) {
  const name = useGo();
  const count = useGo();
  return (
    <>
      <label>
        Who came
        <select
          id="visit-type"
          value={visit.type}
          onChange={(event) => {
            const type = event.currentTarget.value as Visit['type'];
            change('who came said', (now) => sayOfVisit(now, at, { type }));
          }}
        >
          {visitTypes.map((type) => (
            <option key={type} value={type}>
              {TYPES[type]}
            </option>
          ))}
        </select>
      </label>
      {visit.type !== 'animal' && (
        <p class="note">Only animals count as visits; photos of this count for nothing.</p>
      )}
      <div class="two">
        <label>
          Name, such as the species
          <input
            id="chosen-name"
            list="names-used"
            autocomplete="off"
            value={visit.name ?? ''}
            onFocus={name.enter}
            onInput={(event) => {
              const said = event.currentTarget.value;
              change(
                'a name given',
                (now) => sayOfVisit(now, at, { name: said === '' ? undefined : said }),
                name.go(),
              );
            }}
          />
        </label>
        <label>
          How many
          <input
            id="visit-count"
            type="number"
            min={1}
            max={MOST}
            step={1}
            value={visit.count ?? ''}
            onFocus={count.enter}
            onInput={(event) => {
              const { value, valueAsNumber } = event.currentTarget;
              const fits = Number.isInteger(valueAsNumber) && valueAsNumber >= 1 && valueAsNumber <= MOST;
              if (!fits && value !== '') return;
              const said = fits ? valueAsNumber : undefined;
              change('how many came said', (now) => sayOfVisit(now, at, { count: said }), count.go());
            }}
          />
        </label>
      </div>
      <datalist id="names-used">
        {namesUsed.value.map((used) => (
          <option key={used} value={used} />
        ))}
      </datalist>
      <div>
        <button
          type="button"
          aria-pressed={framing.value}
          onClick={() => {
            framing.value = !framing.value;
          }}
        >
          {visit.box ? 'Change the box' : 'Frame where it is'}
        </button>{' '}
        {visit.box && (
          <button
            type="button"
            onClick={() => {
              change('a box taken away', (now) => sayOfVisit(now, at, { box: undefined }));
            }}
          >
            Take the box away
          </button>
        )}
      </div>
    </>
  );
}

function Why({ at, why }: { at: number; why: string }) {
  const { go, enter } = useGo();
  return (
    <label>
      Why it is ignored, such as setting up
      <input
        id="chosen-name"
        autocomplete="off"
        value={why}
        onFocus={enter}
        onInput={(event) => {
          const said = event.currentTarget.value;
          change('a reason given', (now) => sayWhy(now, at, said), go());
        }}
      />
    </label>
  );
}
