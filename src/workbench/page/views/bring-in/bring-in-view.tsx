import { signal } from '@preact/signals';
import { clock, figure } from '../../../../base/figures.js';
import { openClip } from '../../state/clip.js';
import { show } from '../../state/shown.js';
import { loadWorkspace, workspace } from '../../state/workspace.js';
import './bring-in.css';
import { type Chosen, chosenFrom, freeName } from './chosen.js';
import { dropped } from './dropped.js';
import { bringIn } from './send.js';

/** Where this view is: nothing chosen, a recording to be described, on its way, or a clip. */
type Stage =
  | { kind: 'choose'; why: string | null }
  | { kind: 'describe'; chosen: Exclude<Chosen, { kind: 'nothing' }>; why: string | null }
  | { kind: 'going'; name: string; what: string; share: number | null }
  | { kind: 'made'; clip: string; frames: number; seconds: number; notes: string[] };

const stage = signal<Stage>({ kind: 'choose', why: null });
const form = signal({ name: '', site: '', timed: true, rate: '5' });
let stop = new AbortController();

/** A recording from elsewhere on this machine becomes a clip of the opened folder. */
export function BringInView() {
  const now = stage.value;
  if (workspace.value?.folder === null) {
    return (
      <section class="bring-in">
        <h2>Bring in a recording</h2>
        <p>
          These are the clips of the demo. For recordings of your own, make a folder for them and start the
          program with its name:
        </p>
        <pre>npx perchmark open my-garden</pre>
        <p class="note">
          Then this page takes a video, or a folder of pictures, and makes a clip of it there.
        </p>
      </section>
    );
  }
  return (
    <section class="bring-in">
      <h2>Bring in a recording</h2>
      {now.kind === 'choose' && <Choose why={now.why} />}
      {now.kind === 'describe' && <Describe chosen={now.chosen} why={now.why} />}
      {now.kind === 'going' && <Going what={now.what} share={now.share} name={now.name} />}
      {now.kind === 'made' && <Made {...now} />}
    </section>
  );
}

function Choose({ why }: { why: string | null }) {
  const take = (files: readonly File[], folder: string) => {
    const chosen = chosenFrom(files, folder);
    if (chosen.kind === 'nothing') {
      stage.value = { kind: 'choose', why: chosen.why };
      return;
    }
    const taken = workspace.value?.clips.map(({ name }) => name) ?? [];
    form.value = { ...form.value, name: freeName(chosen.name, taken), timed: true };
    stage.value = { kind: 'describe', chosen, why: null };
  };
  return (
    <fieldset
      class="drop"
      aria-label="Choose a recording"
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        event.preventDefault();
        if (event.dataTransfer)
          void dropped(event.dataTransfer).then(({ files, folder }) => take(files, folder));
      }}
    >
      <p>Drop a video or a folder of pictures here, or choose one:</p>
      <div class="choices">
        <label class="pick">
          <span>A video</span>
          <input
            type="file"
            accept="video/*,.mkv,.h264,.mjpeg,.mts"
            onChange={({ currentTarget }) => take([...(currentTarget.files ?? [])], '')}
          />
        </label>
        <label class="pick">
          <span>A folder of pictures</span>
          <input
            type="file"
            ref={(input) => input?.setAttribute('webkitdirectory', '')}
            onChange={({ currentTarget }) => {
              const files = [...(currentTarget.files ?? [])];
              // Of folders within the folder nothing is taken.
              const top = files.filter(
                ({ webkitRelativePath }) => webkitRelativePath.split('/').length === 2,
              );
              take(top, files[0]?.webkitRelativePath.split('/')[0] ?? '');
            }}
          />
        </label>
      </div>
      <p role="alert">{why}</p>
      <p class="note">
        It is copied into {workspace.value?.folder} and never leaves this machine; the recording stays as it
        is. Record without a break, through the camera's own lens: what a trigger has cut holds nothing of
        what it missed.
      </p>
    </fieldset>
  );
}

function Describe({ chosen, why }: { chosen: Exclude<Chosen, { kind: 'nothing' }>; why: string | null }) {
  const { name, site, timed, rate } = form.value;
  const set = (part: Partial<typeof form.value>) => {
    form.value = { ...form.value, ...part };
  };
  const sites = [...new Set(workspace.value?.clips.flatMap((one) => one.site ?? []) ?? [])];
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
        {why}
      </p>
      <label class="field">
        <span>What to call the clip</span>
        <input value={name} required maxLength={60} onInput={(e) => set({ name: e.currentTarget.value })} />
      </label>
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
        {!rateFits && <p class="why">Expected a number above 0 and up to 1000.</p>}
      </fieldset>
      <p>
        <button type="submit" class="main" disabled={!rateFits || name.trim() === ''}>
          Make a clip of it
        </button>{' '}
        <button type="button" onClick={again}>
          Choose another
        </button>
      </p>
    </form>
  );
}

function Going({ name, what, share }: { name: string; what: string; share: number | null }) {
  return (
    <div role="status">
      <p>
        {name}: {what}
      </p>
      <progress aria-label={what} {...(share !== null && { value: share })} />
      <p>
        <button type="button" onClick={() => stop.abort()}>
          Stop
        </button>
      </p>
    </div>
  );
}

function Made({ clip, frames, seconds, notes }: Extract<Stage, { kind: 'made' }>) {
  return (
    <div>
      <p role="status">
        <strong>{clip}</strong> is a clip now: {clock(seconds)} long, {frames} pictures,{' '}
        {figure(frames / seconds)} a second.
      </p>
      {notes.length > 0 && (
        <>
          <h3>What to know of it</h3>
          <ul>
            {notes.map((note) => (
              <li key={note}>{note}</li>
            ))}
          </ul>
        </>
      )}
      <p>
        <button
          type="button"
          class="main"
          onClick={() => {
            void openClip(clip);
            show('label');
          }}
        >
          Look at it
        </button>{' '}
        <button type="button" onClick={again}>
          Bring in another
        </button>
      </p>
    </div>
  );
}

function again(): void {
  stage.value = { kind: 'choose', why: null };
}

async function go(chosen: Exclude<Chosen, { kind: 'nothing' }>): Promise<void> {
  const { name, site, timed, rate } = form.value;
  stop = new AbortController();
  const { signal: mine } = stop;
  const notes: string[] = [];
  let what = 'sending';
  const show = (share: number | null) => {
    stage.value = { kind: 'going', name, what, share };
  };
  show(0);
  try {
    const made = await bringIn(
      chosen.files,
      {
        name: name.trim(),
        video: chosen.kind === 'video',
        ...(site.trim() !== '' && { site: site.trim() }),
        ...(!timed && { rate: Number(rate) }),
      },
      mine,
      (sent) => show(chosen.bytes === 0 ? null : sent / chosen.bytes),
      {
        onPhase: (phase) => {
          what = phase;
          show(null);
        },
        onProgress: (done, total) => show(done / total),
        onWarning: (line) => notes.push(line),
      },
    );
    await loadWorkspace();
    stage.value = { kind: 'made', ...made, notes };
  } catch (error) {
    const why = mine.aborted ? 'Stopped; nothing of it was kept.' : (error as Error).message;
    stage.value = { kind: 'describe', chosen, why };
  }
}

function size(bytes: number): string {
  return bytes < 1e6
    ? `${figure(bytes / 1e3)} kB`
    : bytes < 1e9
      ? `${figure(bytes / 1e6)} MB`
      : `${figure(bytes / 1e9)} GB`;
}
