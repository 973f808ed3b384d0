import { useEffect, useLayoutEffect, useMemo, useRef } from 'preact/hooks';
import { clock } from '../../../../base/figures.js';
import type { Known } from '../../../../tune/moments/known.js';
import { type Key, useKeys } from '../../parts/keys.js';
import { clip } from '../../state/clip.js';
import { useAhead } from './ahead.js';
import { asked, knownOf } from './asked.js';
import { boxesGround, wantBoxes } from './boxes.js';
import { keyOf } from './cells.js';
import { Joined } from './joined.js';
import { MomentPicture } from './moment-picture.js';
import { answer, atHand, goOn, layOut, parted, sheet, takeApart, tick, tickAll, ticked } from './sheet.js';

const SAID: Record<Exclude<Known, null>, string> = {
  animal: '● animal',
  person: '■ person',
  nothing: '× nothing',
  'set aside': '— set aside',
};

const KEYS: readonly Key[] = [
  { key: 'a', what: 'ticked moments show an animal', act: () => answer('animal') },
  { key: 'p', what: 'ticked moments show a person', act: () => answer('person') },
  { key: 'n', what: 'ticked moments show nothing of either', act: () => answer('nothing') },
  { key: 't', what: 'tick all that are open, or none', act: tickAll },
  { key: 's', what: 'several alike: one question for each picture', act: takeApart },
  { key: 'g', what: 'leave it, and on to the next open moment', act: goOn },
];

/** The moments that matter most, as a sheet of pictures to tick: one stop for Tab, arrows within. */
export function MomentSheet() {
  const now = asked.value;
  const open = clip.value;
  const cells = useRef<(HTMLButtonElement | null)[]>([]);
  useKeys('Moments', KEYS);
  const shown = sheet.value;
  const moments = useMemo(
    () => shown.flat().flatMap((member) => now?.moments[member] ?? []),
    [shown, now?.moments],
  );
  const id = open?.id;
  useEffect(() => {
    if (id !== undefined) void wantBoxes(id, moments);
  }, [id, moments, boxesGround.value]);
  useAhead(open, shown, moments);
  const at = Math.min(atHand.value, Math.max(0, shown.length - 1));
  // Focus follows only within the sheet: an answer by a button leaves it there. Asked for before the drawing, which may take
  // away what has it, and moved with the drawing: moved later, it would bring back a moment that the next key has gone on from.
  const inside = cells.current.includes(document.activeElement as HTMLButtonElement);
  useLayoutEffect(() => {
    if (inside) cells.current[at]?.focus();
  }, [at, shown]);
  if (!now || !open || shown.length === 0) return null;
  const move = (event: KeyboardEvent) => {
    const to = target(event.key, at, cells.current.slice(0, shown.length));
    if (to === null || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    // At once, and not with the next drawing: the next key may come before it.
    cells.current[to]?.focus();
  };
  return (
    <>
      <fieldset class="sheet" aria-label="Moments to tick" onKeyDown={move}>
        {shown.map((members, place) => {
          const known = knownOf(members);
          const first = now.moments[members[0]!]!;
          const last = now.moments[members.at(-1)!]!;
          return (
            // biome-ignore lint/a11y/useSemanticElements: a checkbox of pictures
            <button
              type="button"
              key={keyOf(members)}
              role="checkbox"
              aria-checked={ticked.value.has(keyOf(members))}
              class="moment"
              tabIndex={place === at ? 0 : -1}
              ref={(cell) => {
                cells.current[place] = cell;
              }}
              onFocus={() => {
                atHand.value = place;
              }}
              onClick={() => {
                atHand.value = place;
                tick(members);
              }}
            >
              <span class={members.length > 1 ? 'several' : 'one'}>
                {members.map((member) => (
                  <MomentPicture key={member} open={open} moment={now.moments[member]!} />
                ))}
              </span>
              <span class="line">
                <span class="tick" aria-hidden="true" />
                {spanOf(first.start, last.end)}
                {members.length > 1 && <span class="note">{members.length} alike</span>}
                {known !== null && <strong class={`said ${known.replace(' ', '-')}`}>{SAID[known]}</strong>}
              </span>
            </button>
          );
        })}
      </fieldset>
      {parted.value > 0 && (
        <p role="status">
          Taken apart into {parted.value} pictures, for one visit over all of them would be too long, and too
          easy to catch. Tick those that show it, and answer again; what is left over is asked about by
          itself.
        </p>
      )}
      <Joined />
      <p class="answers">
        <span class="note">
          {ticked.value.size > 0
            ? `${ticked.value.size} ticked, say what they show:`
            : 'the one at hand shows:'}
        </span>{' '}
        <button type="button" onClick={() => answer('animal')}>
          ● animal <kbd>A</kbd>
        </button>{' '}
        <button type="button" onClick={() => answer('person')}>
          ■ person <kbd>P</kbd>
        </button>{' '}
        <button type="button" onClick={() => answer('nothing')}>
          × nothing <kbd>N</kbd>
        </button>
      </p>
      <p class="answers">
        <button type="button" onClick={tickAll}>
          tick all or none <kbd>T</kbd>
        </button>{' '}
        {shown.some(({ length }) => length > 1) && (
          <>
            <button type="button" onClick={takeApart}>
              several alike: picture by picture <kbd>S</kbd>
            </button>{' '}
          </>
        )}
        <button type="button" disabled={ticked.value.size > 0} onClick={goOn}>
          leave it, to the next open one <kbd>G</kbd>
        </button>{' '}
        <button type="button" onClick={layOut}>
          lay out those that matter most now
        </button>
      </p>
    </>
  );
}

/** '8:37.0-8:39.4'; of one frame, '8:37.0'. */
function spanOf(start: number, end: number): string {
  return start === end ? clock(start, 1) : `${clock(start, 1)}–${clock(end, 1)}`;
}

/** Where a key leads on the sheet; null for keys that are none of its. Up and down keep the column. */
function target(key: string, at: number, cells: readonly (HTMLButtonElement | null)[]): number | null {
  const last = cells.length - 1;
  const columns = Math.max(1, cells.filter((cell) => cell?.offsetTop === cells[0]?.offsetTop).length);
  const to: Record<string, number> = {
    ArrowLeft: at - 1,
    ArrowRight: at + 1,
    ArrowUp: at - columns,
    ArrowDown: at + columns,
    Home: 0,
    End: last,
  };
  const place = to[key];
  if (place === undefined) return null;
  return place < 0 || place > last ? at : place;
}
