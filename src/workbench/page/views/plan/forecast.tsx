import { useSignal } from '@preact/signals';
import { form } from './asking.js';
import { MOST_ROWS, momentsOf, RAINS, SKIES, STEP_HOURS, type TypedRow, WINDS } from './typed.js';

/** A forecast from a file is a table of a month at most; bytes. */
const MOST_BYTES = 2 ** 20;

/** The weather of the coming days: a few rows typed in, or a file. */
export function ForecastForm() {
  const { file } = form.value;
  const why = useSignal<string | null>(null);
  return (
    <fieldset>
      <legend>What is foretold</legend>
      {file === null ? (
        <Typing />
      ) : (
        <p class="row">
          <span>
            From <strong>{file.name}</strong>
          </span>
          <button
            type="button"
            onClick={() => {
              form.value = { ...form.value, file: null };
            }}
          >
            Type it in instead
          </button>
        </p>
      )}
      <label class="field">
        <span>
          Or from a file (CSV with columns time, wind or beaufort, and if you have them gust, rain, cloud)
        </span>
        <input
          type="file"
          accept=".csv,.txt"
          onChange={async ({ currentTarget }) => {
            const [given] = currentTarget.files ?? [];
            why.value = null;
            if (!given) return;
            if (given.size > MOST_BYTES) why.value = `${given.name}: expected a forecast, of at most 1 MB.`;
            else form.value = { ...form.value, file: { name: given.name, text: await given.text() } };
          }}
        />
      </label>
      <p class="why" role="alert">
        {why.value}
      </p>
    </fieldset>
  );
}

function Typing() {
  const { typed } = form.value;
  const moments = momentsOf(typed);
  const set = (part: Partial<typeof typed>) => {
    form.value = { ...form.value, typed: { ...typed, ...part } };
  };
  const change = (place: number, part: Partial<TypedRow>) =>
    set({ rows: typed.rows.map((row, i) => (i === place ? { ...row, ...part } : row)) });
  return (
    <>
      <label class="field">
        <span>From</span>
        <input
          type="datetime-local"
          value={typed.from}
          required
          onInput={({ currentTarget }) => set({ from: currentTarget.value })}
        />
      </label>
      <ol class="foretold">
        {typed.rows.map((row, i) => {
          const when = whenText(moments[i]);
          return (
            // Rows are told apart by when they begin, which is their place.
            <li key={i}>
              <span class="when">{when}</span>
              <select
                aria-label={`wind, ${when}`}
                value={String(row.beaufort)}
                onChange={({ currentTarget }) => change(i, { beaufort: Number(currentTarget.value) })}
              >
                {WINDS.map((words, beaufort) => (
                  <option key={words} value={String(beaufort)}>
                    {beaufort} {words}
                  </option>
                ))}
              </select>
              <Chosen
                of={RAINS}
                label={`rain, ${when}`}
                value={row.rain}
                onChange={(rain) => change(i, { rain })}
              />
              <Chosen
                of={SKIES}
                label={`sky, ${when}`}
                value={row.cloud}
                onChange={(cloud) => change(i, { cloud })}
              />
            </li>
          );
        })}
      </ol>
      <p class="row">
        <button
          type="button"
          disabled={typed.rows.length >= MOST_ROWS}
          onClick={() => set({ rows: [...typed.rows, { ...typed.rows.at(-1)! }] })}
        >
          {STEP_HOURS} hours more
        </button>
        <button
          type="button"
          disabled={typed.rows.length <= 1}
          onClick={() => set({ rows: typed.rows.slice(0, -1) })}
        >
          {STEP_HOURS} hours fewer
        </button>
        <span class="note">Each row holds for {STEP_HOURS} hours; by the clock of this machine.</span>
      </p>
    </>
  );
}

function Chosen(asked: {
  of: readonly [number, string][];
  label: string;
  value: number;
  onChange: (value: number) => void;
}) {
  return (
    <select
      aria-label={asked.label}
      value={String(asked.value)}
      onChange={({ currentTarget }) => asked.onChange(Number(currentTarget.value))}
    >
      {asked.of.map(([value, words]) => (
        <option key={value} value={String(value)}>
          {words}
        </option>
      ))}
    </select>
  );
}

const AT = new Intl.DateTimeFormat('en-GB', {
  weekday: 'short',
  day: 'numeric',
  hour: '2-digit',
  minute: '2-digit',
});

function whenText(at: Date | undefined): string {
  return at ? AT.format(at) : 'when?';
}
