import type { Camera } from '../../../../camera/description.js';
import { type Dial, type EngineValue, engineValues } from '../../../../camera/dials.js';
import { NumbersField } from '../../parts/number-field.js';
import { pixelsOf, set } from './draft.js';
import { misfitOf } from './fitted.js';

const MEANS: Record<EngineValue, string> = {
  threshold: 'how much a pixel must change to count (grey levels, 0 to 255)',
  minimumArea: 'how many pixels must change for it to fire',
  mostChanged: 'how many may change at most: more is taken for a change of light',
  persistence: 'in how many pictures in a row',
  cooldown: 'how many seconds it rests after it fired',
};

/** The camera's own dials: what each is called, what it sets, and where it can stand. */
export function DialTable({ camera }: { camera: Camera }) {
  const dials = Object.entries(camera.controls);
  const put = (all: [string, Dial][]) => set({ controls: Object.fromEntries(all) });
  const replace = (place: number, name: string, dial: Dial) =>
    put(dials.map((one, i) => (i === place ? [name, dial] : one)));
  const free = engineValues.filter((value) => !dials.some(([, { sets }]) => sets === value));
  return (
    <section class="dial-table">
      <h3>Which dials does it have?</h3>
      <p class="note">
        Whatever you can set on it: in a menu, in a file, by a knob. Call each as it is called there, and
        write down the positions that it has.
      </p>
      {dials.map(([name, dial], place) => (
        // What a dial sets is its own alone; its name changes with every letter that is typed.
        <fieldset key={dial.sets} class="dial-row">
          <legend>{name === '' ? 'a dial without a name' : name}</legend>
          <label>
            <span>called</span>
            <input
              value={name}
              onInput={({ currentTarget }) => {
                const now = currentTarget.value;
                if (!dials.some(([other], i) => i !== place && other === now)) replace(place, now, dial);
              }}
            />
          </label>
          <label>
            <span>sets</span>
            <select
              value={dial.sets}
              onChange={({ currentTarget }) =>
                replace(place, name, { ...dial, sets: currentTarget.value as EngineValue })
              }
            >
              {engineValues.map((value) => (
                <option key={value} value={value} disabled={value !== dial.sets && !free.includes(value)}>
                  {MEANS[value]}
                </option>
              ))}
            </select>
          </label>
          <Positions dial={dial} onChange={(changed) => replace(place, name, changed)} />
          <Misfit name={name} dial={dial} pixels={pixelsOf(camera)} />
          <button type="button" onClick={() => put(dials.filter((_, i) => i !== place))}>
            Take {name} away
          </button>
        </fieldset>
      ))}
      {free[0] !== undefined && (
        <button
          type="button"
          onClick={() => put([...dials, [free[0]!, { sets: free[0]!, choices: [USUAL[free[0]!]] }]])}
        >
          Add a dial
        </button>
      )}
    </section>
  );
}

const USUAL: Record<EngineValue, number> = {
  threshold: 24,
  minimumArea: 100,
  mostChanged: 20_000,
  persistence: 1,
  cooldown: 10,
};

/** What does not fit of one dial, said where it can be put right. */
function Misfit({ name, dial, pixels }: { name: string; dial: Dial; pixels: number }) {
  return (
    <p class="why" role="status">
      {misfitOf({ [name]: dial }, pixels)}
    </p>
  );
}

function Positions({ dial, onChange }: { dial: Dial; onChange: (dial: Dial) => void }) {
  if ('choices' in dial) {
    return (
      <>
        <NumbersField
          label="stands at one of"
          values={dial.choices}
          onChange={(choices) => onChange({ sets: dial.sets, choices })}
        />
        <button
          type="button"
          onClick={() =>
            onChange({
              sets: dial.sets,
              from: 1,
              to: 10,
              step: 1,
              gives: [Math.max(...dial.choices), Math.min(...dial.choices)],
            })
          }
        >
          It has steps of its own (1 to 10) instead
        </button>
      </>
    );
  }
  const number = (words: string, value: number, put: (x: number) => Dial) => (
    <label>
      <span>{words}</span>
      <input
        inputMode="decimal"
        value={value}
        onChange={({ currentTarget }) => {
          const x = Number(currentTarget.value);
          if (currentTarget.value.trim() !== '' && Number.isFinite(x)) onChange(put(x));
          else currentTarget.value = String(value);
        }}
      />
    </label>
  );
  const [first, last] = dial.gives;
  return (
    <>
      {number('from', dial.from, (from) => ({ ...dial, from }))}
      {number('to', dial.to, (to) => ({ ...dial, to }))}
      {number('in steps of', dial.step, (step) => ({ ...dial, step }))}
      {number(`at ${dial.from} it means`, first, (x) => ({ ...dial, gives: [x, last] }))}
      {number(`at ${dial.to} it means`, last, (x) => ({ ...dial, gives: [first, x] }))}
    </>
  );
}
