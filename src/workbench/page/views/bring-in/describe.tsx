import { figure } from '../../../../base/figures.js';
import { AskThen } from '../../parts/ask-then.js';
import { inOwnWords } from '../../parts/own-words.js';
import { thenProblem } from '../../parts/then.js';
import { workspace } from '../../state/workspace.js';
import { nameProblem } from './chosen.js';
import { again, form, go, type Recording, taken } from './stage.js';

/** What is to be known of a recording. */
export function Describe({
  chosen,
  isTimed,
  began,
  why,
}: {
  chosen: Recording;
  isTimed: boolean;
  began: string;
  why: string | null;
}) {
  const { name, site, timed, rate, recorded } = form.value;
  const set = (part: Partial<typeof form.value>) => {
    form.value = { ...form.value, ...part };
  };
  const sites = [...new Set(workspace.value?.clips.flatMap((one) => one.site ?? []) ?? [])];
  const problem = nameProblem(name, taken());
  const perSecond = Number(rate);
  const rateFits = timed || (perSecond > 0 && perSecond <= 1000);
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        void go(chosen);
      }}
    >
      <p>
        {chosen.kind === 'video'
          ? `A video, ${chosen.files[0].name}, ${size(chosen.bytes)}.`
          : `${chosen.files.length} pictures, ${size(chosen.bytes)}, from ${chosen.files[0]?.name} to ${chosen.files.at(-1)?.name}.`}
      </p>
      <p role="alert" class="why">
        {why === null ? null : inOwnWords(why)}
      </p>
      <label class="field">
        <span>What to call the clip</span>
        <input
          value={name}
          required
          maxLength={60}
          aria-invalid={problem !== null}
          onInput={(e) => set({ name: e.currentTarget.value })}
        />
      </label>
      <p role="status" class="why">
        {problem}
      </p>
      <label class="field">
        <span>Where the camera hung (clips of one spot are tuned together)</span>
        <input
          value={site}
          list="sites"
          maxLength={60}
          onInput={(e) => set({ site: e.currentTarget.value })}
        />
      </label>
      <datalist id="sites">
        {sites.map((one) => (
          <option key={one} value={one} />
        ))}
      </datalist>
      <fieldset>
        <legend>When was each picture taken?</legend>
        <label>
          <input type="radio" name="times" checked={timed} onChange={() => set({ timed: true })} />{' '}
          {chosen.kind === 'video' ? 'As the video says' : 'As the pictures say, inside or by their names'}
        </label>
        <label>
          <input type="radio" name="times" checked={!timed} onChange={() => set({ timed: false })} /> Evenly,
          so many a second:{' '}
          <input
            class="rate"
            aria-label="pictures a second"
            inputMode="decimal"
            value={rate}
            onInput={(e) => set({ rate: e.currentTarget.value, timed: false })}
          />
        </label>
        {!isTimed && (
          <p class="note">
            The first of these pictures does not tell when it was taken, by its name or inside, so say how
            many there are to a second.
          </p>
        )}
        {!rateFits && <p class="why">Expected a number above 0 and up to 1000.</p>}
      </fieldset>
      {began !== '' && recorded.began === '' && (
        <p class="note">
          By its {chosen.kind === 'video' ? 'name' : 'first picture'} it began on {began.replace('T', ' at ')}
          .{' '}
          <button type="button" onClick={() => set({ recorded: { ...recorded, began } })}>
            So it did
          </button>
        </p>
      )}
      <AskThen value={recorded} onChange={(value) => set({ recorded: value })} />
      <p>
        <button
          type="submit"
          class="main"
          disabled={!rateFits || problem !== null || thenProblem(recorded) !== null}
        >
          Make a clip of it
        </button>{' '}
        <button type="button" onClick={again}>
          Choose another
        </button>
      </p>
    </form>
  );
}

function size(bytes: number): string {
  return bytes < 1e6
    ? `${figure(bytes / 1e3)} kB`
    : bytes < 1e9
      ? `${figure(bytes / 1e6)} MB`
      : `${figure(bytes / 1e9)} GB`;
}
