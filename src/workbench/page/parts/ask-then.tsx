import { RAINS, WINDS } from '../views/plan/typed.js';
import './ask-then.css';
import { LIGHTS, type Then, thenProblem, ZONES } from './then.js';

/** Asks when and where a recording was made, and in what weather, as far as that is known. */
export function AskThen(asked: { value: Then; onChange: (value: Then) => void }) {
  const { value, onChange } = asked;
  const set = (part: Partial<Then>) => onChange({ ...value, ...part });
  const problem = thenProblem(value);
  return (
    <fieldset class="asks-then">
      <legend>When, where and in what weather, if you know</legend>
      <div class="then">
        <p class="note">
          Coming days, Evening and Answer tell of darkness and of weather by it. What you leave empty is as
          the recording says, or not known.
        </p>
        <label class="field">
          <span>It began at</span>
          <input
            type="datetime-local"
            step="1"
            value={value.began}
            onInput={({ currentTarget }) => set({ began: currentTarget.value })}
          />
        </label>
        <Choice
          label="By a clock that is ahead of UTC by"
          none="as this machine’s was then"
          of={ZONES.map((zone) => [zone, zone])}
          value={value.zone}
          onChange={(zone) => set({ zone })}
        />
        <label class="field">
          <span>Latitude, degrees, north positive</span>
          <input
            inputMode="decimal"
            value={value.latitude}
            aria-invalid={problem !== null}
            onInput={({ currentTarget }) => set({ latitude: currentTarget.value })}
          />
        </label>
        <label class="field">
          <span>Longitude, degrees, east positive</span>
          <input
            inputMode="decimal"
            value={value.longitude}
            aria-invalid={problem !== null}
            onInput={({ currentTarget }) => set({ longitude: currentTarget.value })}
          />
        </label>
        <p role="status" class="why">
          {problem}
        </p>
        <Choice
          label="The wind then"
          none="not known"
          of={WINDS.map((words, beaufort) => [String(beaufort), `${beaufort} ${words}`])}
          value={value.wind}
          onChange={(wind) => set({ wind })}
        />
        <Choice
          label="The rain then"
          none="not known"
          of={RAINS.map(([rain, words]) => [String(rain), words])}
          value={value.rain}
          onChange={(rain) => set({ rain })}
        />
        <Choice
          label="The light then (left empty: by the sun)"
          none="not known"
          of={LIGHTS.map(([lux, words]) => [String(lux), words])}
          value={value.light}
          onChange={(light) => set({ light })}
        />
      </div>
    </fieldset>
  );
}

function Choice(asked: {
  label: string;
  none: string;
  of: readonly (readonly [string, string])[];
  value: string;
  onChange: (value: string) => void;
}) {
  const { of, value } = asked;
  // What was written by hand lies between the steps.
  const other = value !== '' && !of.some(([one]) => one === value);
  return (
    <label class="field">
      <span>{asked.label}</span>
      <select value={value} onChange={({ currentTarget }) => asked.onChange(currentTarget.value)}>
        <option value="">{asked.none}</option>
        {other && <option value={value}>{value}, as it was said</option>}
        {of.map(([one, words]) => (
          <option key={one} value={one}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
}
