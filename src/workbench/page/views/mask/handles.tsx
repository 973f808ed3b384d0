import { useEffect, useRef } from 'preact/hooks';
import { once } from '../../parts/keys.js';
import { add, chosen, letGo, moving, remove, shown } from './drawing.js';
import type { Chosen, Point } from './shapes.js';
import { percent, way } from './ways.js';

const names = { mask: 'mask', foliage: 'foliage' };

/** The corners of the chosen polygon, to be moved by pointer and by keyboard; of the others the first, to choose them. */
export function Handles() {
  return (
    <>
      {(['foliage', 'mask'] as const).flatMap((kind) =>
        (shown.value[kind] ?? []).flatMap((polygon, p) => {
          const mine = chosen.value?.kind === kind && chosen.value.polygon === p;
          return (mine ? polygon : polygon.slice(0, 1)).map((at, corner) => (
            <Handle
              key={`${kind} ${p} ${corner}`}
              chosen={{ kind, polygon: p, corner }}
              at={at}
              of={polygon.length}
              mine={mine}
            />
          ));
        }),
      )}
    </>
  );
}

function Handle({ chosen: me, at, of, mine }: { chosen: Chosen; at: Point; of: number; mine: boolean }) {
  const button = useRef<HTMLButtonElement>(null);
  const [x, y] = at;
  const first = mine && chosen.value?.corner === me.corner;
  useEffect(() => {
    // The focus follows the choice while it is among the corners.
    if (first && document.activeElement?.closest('.stage')) button.current?.focus();
  }, [first]);
  const choose = () => {
    const { value: now } = chosen;
    if (now?.kind === me.kind && now.polygon === me.polygon && now.corner === me.corner) return;
    chosen.value = me;
  };
  const keys = (event: KeyboardEvent) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const by = way(event);
    const from = moving.value?.to ?? at;
    if (by) moving.value = { chosen: me, to: [from[0] + by[0], from[1] + by[1]] };
    else if (event.key === 'Delete' || event.key === 'Backspace') once(event, () => remove(me));
    else if (event.key === 'a') once(event, () => add(me));
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    <button
      ref={button}
      type="button"
      class={`corner ${me.kind}`}
      style={{ left: `${100 * x}%`, top: `${100 * y}%` }}
      aria-label={`${names[me.kind]} ${me.polygon + 1}, corner ${me.corner + 1} of ${of}: ${percent(x)} across, ${percent(y)} down`}
      onFocus={choose}
      onPointerDown={(event) => {
        event.stopPropagation();
        choose();
        button.current?.focus();
        moving.value = { chosen: me, to: at };
        // Moves go to the picture, which the pointer may leave meanwhile.
        event.currentTarget.closest('.stage')?.setPointerCapture(event.pointerId);
        event.currentTarget
          .closest('.stage')
          ?.addEventListener('lostpointercapture', () => letGo(), { once: true });
      }}
      onKeyDown={keys}
      onKeyUp={(event) => {
        if (event.key.startsWith('Arrow')) letGo();
      }}
      onBlur={letGo}
    />
  );
}
