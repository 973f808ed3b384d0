import { RAINS, WINDS } from '../plan/typed.js';
import { form } from './stage.js';
import { type Then, thenProblem, ZONES } from './then.js';

/** Asks when and where the recording was made, and in what weather, as far as that is known. */
export function AskThen() {
  const { recorded } = form.value;
  const set = (part: Partial<Then>) => {
    form.value = { ...form.value, recorded: { ...recorded, ...part } };
  };
  const problem = thenProblem(recorded);
  return (
    <fieldset>
      <legend>When, where and in what weather, if you know</legend>
      <p class="note">
        Coming days, Evening and Answer tell of darkness and of weather by it. What you leave empty is as the
        recording says, or not known.
      </p>
      <label class="field">
        <span>It began at</span>
        <input
          type="datetime-local"
          step="1"
          value={recorded.began}
          onInput={({ currentTarget }) => set({ began: currentTarget.value })}
        />
      </label>
      <Choice
        label="By a clock that is ahead of UTC by"
        none="as the clock of this machine was then"
        of={ZONES.map((zone) => [zone, zone])}
        value={recorded.zone}
        onChange={(zone) => set({ zone })}
      />
      <label class="field">
        <span>Latitude, degrees, north positive</span>
        <input
          inputMode="decimal"
          value={recorded.latitude}
          aria-invalid={problem !== null}
          onInput={({ currentTarget }) => set({ latitude: currentTarget.value })}
        />
      </label>
      <label class="field">
        <span>Longitude, degrees, east positive</span>
        <input
          inputMode="decimal"
          value={recorded.longitude}
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
        value={recorded.wind}
        onChange={(wind) => set({ wind })}
      />
      <Choice
        label="The rain then"
        none="not known"
        of={RAINS.map(([rain, words]) => [String(rain), words])}
        value={recorded.rain}
        onChange={(rain) => set({ rain })}
      />
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
  return (
    <label class="field">
      <span>{asked.label}</span>
      <select value={asked.value} onChange={({ currentTarget }) => asked.onChange(currentTarget.value)}>
        <option value="">{asked.none}</option>
        {asked.of.map(([value, words]) => (
          <option key={value} value={value}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
}
