import { useComputed } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { hourText, hourTitle } from '../../../../words/evening-wording.js';
import { photoAddress } from './addresses.js';
import type { EveningSession, Shown } from './session.js';

const SHOWN: readonly [Shown, string][] = [
  ['all', 'all'],
  ['open', 'not marked'],
  ['animal', 'animal'],
  ['nothing', 'nothing'],
  ['person', 'person'],
];

/** Every photo small, an hour a section: one stop for Tab, arrows within. */
export function Sheet({ session }: { session: EveningSession }) {
  const times = session.photos.map(({ time }) => time);
  const grid = useRef<HTMLFieldSetElement>(null);
  const shown = session.shown.value;
  return (
    <fieldset
      class="photos"
      aria-label="Photos to mark"
      data-show={shown}
      ref={grid}
      onKeyDown={(event) => move(event, session, grid.current)}
    >
      <p class="row">
        <label>
          Show{' '}
          <select
            value={shown}
            onChange={({ currentTarget }) => {
              session.shown.value = currentTarget.value as Shown;
              if (!session.shows(session.current.value))
                session.go(session.photos.findIndex((_, photo) => session.shows(photo)));
            }}
          >
            {SHOWN.map(([value, words]) => (
              <option key={value} value={value}>
                {words}
              </option>
            ))}
          </select>
        </label>
        <label>
          <input
            type="checkbox"
            checked={session.together.value}
            onChange={({ currentTarget }) => {
              session.together.value = currentTarget.checked;
            }}
          />{' '}
          mark photos of a burst together
        </label>
      </p>
      {session.hours.map(({ hour, from, count }) => (
        <section key={from} aria-label={hourTitle(hour, times)}>
          <h3>
            <span>{hourTitle(hour, times)}</span> <Rest session={session} from={from} count={count} />
          </h3>
          <ol>
            {Array.from({ length: count }, (_, i) => (
              <Tile key={from + i} session={session} photo={from + i} />
            ))}
          </ol>
        </section>
      ))}
    </fieldset>
  );
}

/** The photos of an hour that are left, as of nothing at one press. */
function Rest({ session, from, count }: { session: EveningSession; from: number; count: number }) {
  let open = 0;
  for (let photo = from; photo < from + count; photo++) if (session.seen[photo]!.value === null) open++;
  if (open === 0) return <span class="note">all marked</span>;
  return (
    <button type="button" onClick={() => session.restIsNothing(from, count)}>
      {open === count ? `All ${count}` : `The other ${open}`}: nothing
    </button>
  );
}

function Tile({ session, photo }: { session: EveningSession; photo: number }) {
  const { id, photos, bursts } = session;
  const isCurrent = useComputed(() => session.current.value === photo).value;
  const seen = session.seen[photo]!.value;
  const cell = useRef<HTMLButtonElement>(null);
  const { time } = photos[photo]!;
  useEffect(() => {
    if (!isCurrent) return;
    cell.current?.scrollIntoView({ block: 'nearest' });
    // Focus follows only within the sheet: an answer by a button leaves it there.
    if (document.activeElement?.closest('.photos li')) cell.current?.focus();
  }, [isCurrent]);
  return (
    <li data-seen={seen ?? 'open'} class={bursts[photo] === bursts[photo - 1] ? 'joined' : ''}>
      <button
        type="button"
        ref={cell}
        aria-current={isCurrent ? 'true' : undefined}
        tabIndex={isCurrent ? 0 : -1}
        onClick={() => session.go(photo)}
      >
        <img src={photoAddress(id, photos[photo]!)} alt="" loading="lazy" decoding="async" />
        <span class="line">
          <span>
            <span class="out-of-sight">photo </span>
            {photo + 1}
          </span>{' '}
          <strong>{seen ?? <span class="out-of-sight">not marked</span>}</strong>{' '}
          {time !== null && <span class="note">{hourText(time)}</span>}
        </span>
      </button>
    </li>
  );
}

/** Arrows go from photo to photo among those shown; up and down by where they stand on the page. */
function move(event: KeyboardEvent, session: EveningSession, grid: HTMLElement | null): void {
  if (event.altKey || event.ctrlKey || event.metaKey || !(event.target as HTMLElement).closest('li')) return;
  const cells = [...(grid?.querySelectorAll<HTMLElement>('li button') ?? [])];
  const at = session.current.value;
  const last = cells.length - 1;
  const to: Record<string, () => number> = {
    ArrowRight: () => along(session, at, 1),
    ArrowLeft: () => along(session, at, -1),
    ArrowDown: () => beside(session, cells, at, 1),
    ArrowUp: () => beside(session, cells, at, -1),
    Home: () => (session.shows(0) ? 0 : along(session, 0, 1)),
    End: () => (session.shows(last) ? last : along(session, last, -1)),
  };
  const place = to[event.key]?.();
  if (place === undefined) return;
  event.preventDefault();
  session.go(place);
  // At once, and not with the next drawing: the next key may come before it.
  cells[place]?.focus();
}

function along(session: EveningSession, at: number, step: 1 | -1): number {
  for (let photo = at + step; photo >= 0 && photo < session.photos.length; photo += step)
    if (session.shows(photo)) return photo;
  return at;
}

function beside(session: EveningSession, cells: readonly HTMLElement[], at: number, step: 1 | -1): number {
  const here = cells[at]?.getBoundingClientRect();
  if (!here) return at;
  let best = at;
  let row: number | null = null;
  let nearest = Number.POSITIVE_INFINITY;
  for (let photo = at + step; photo >= 0 && photo < cells.length; photo += step) {
    if (!session.shows(photo)) continue;
    const place = cells[photo]!.getBoundingClientRect();
    if ((place.top - here.top) * step < 1) continue;
    row ??= place.top;
    if (Math.abs(place.top - row) > 1) break;
    const far = Math.abs(place.left - here.left);
    if (far < nearest) [nearest, best] = [far, photo];
  }
  return best;
}
