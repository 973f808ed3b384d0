import { useLayoutEffect, useRef } from 'preact/hooks';
import type { Polygon } from '../../../../engine/mask.js';
import { FramePicture } from '../../parts/frame-picture.js';
import { once } from '../../parts/keys.js';
import { back, chosen, close, corner, cross, draft, giveUp, moving, shown } from './drawing.js';
import { masking } from './effect.js';
import { Handles } from './handles.js';
import { type Kind, type Point, within } from './shapes.js';
import { percent, way } from './ways.js';

/** A press so near to the first corner closes the polygon. */
const NEAR = 0.025;

const text = (polygon: readonly (readonly [number, number])[]) =>
  polygon.map(([x, y]) => `${x},${y}`).join(' ');

/** The picture with what is drawn on it, and under that where it fires falsely. */
export function Picture() {
  const stage = useRef<HTMLDivElement>(null);
  const drawing = draft.value;
  // At once, so that no key is pressed before the picture takes them.
  useLayoutEffect(() => {
    if (drawing !== null && drawing.length === 0) stage.current?.focus();
  }, [drawing]);
  const at = (event: PointerEvent): Point => {
    const { left, top, width, height } = stage.current!.getBoundingClientRect();
    return within([(event.clientX - left) / width, (event.clientY - top) / height]);
  };
  const press = (event: PointerEvent) => {
    if (!draft.value || event.button !== 0) return;
    const [x, y] = at(event);
    const first = draft.value[0];
    if (draft.value.length >= 3 && first && Math.hypot(x - first[0], y - first[1]) < NEAR) close();
    else corner([x, y]);
    cross.value = [x, y];
  };
  const keys = (event: KeyboardEvent) => {
    if (!draft.value || event.target !== stage.current) return;
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const by = way(event);
    if (by) cross.value = within([cross.value[0] + by[0], cross.value[1] + by[1]]);
    else if (event.key === ' ') once(event, () => corner(cross.value));
    else if (event.key === 'c' || event.key === 'Enter') once(event, close);
    else if (event.key === 'Backspace') once(event, back);
    else if (event.key === 'Escape') giveUp();
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  const [x, y] = cross.value;
  return (
    <div
      ref={stage}
      class={drawing ? 'stage drawing' : 'stage'}
      role="application"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: an application takes keys of its own
      tabIndex={0}
      aria-label={
        drawing
          ? `Drawing, ${drawing.length} corners so far. The cross is at ${percent(x)} across, ${percent(y)} down. Arrows move it, space sets a corner, enter or c closes, backspace takes the last corner back, escape gives up.`
          : 'The picture with the mask and the foliage'
      }
      onPointerDown={press}
      onPointerMove={(event) => {
        if (moving.value) moving.value = { ...moving.value, to: at(event) };
      }}
      onKeyDown={keys}
    >
      <FramePicture>
        <svg viewBox="0 0 1 1" preserveAspectRatio="none" aria-hidden="true">
          <Where />
          {(['foliage', 'mask'] as const).map((kind) => (
            <Shapes key={kind} kind={kind} />
          ))}
          {drawing && drawing.length > 0 && (
            <polyline class="draft" points={text([...drawing, cross.value])} />
          )}
          {drawing && (
            <path class="cross" d={`M${x - 0.02},${y}H${x + 0.02}M${x},${y - 0.027}V${y + 0.027}`} />
          )}
        </svg>
        {!drawing && <Handles />}
      </FramePicture>
    </div>
  );
}

function Shapes({ kind }: { kind: Kind }) {
  const shapes: readonly Polygon[] = shown.value[kind] ?? [];
  return (
    <>
      {shapes.map((polygon, i) => (
        <polygon
          key={text(polygon)}
          class={chosen.value?.kind === kind && chosen.value.polygon === i ? `${kind} chosen` : kind}
          points={text(polygon)}
          onPointerDown={() => {
            if (!draft.value) chosen.value = { kind, polygon: i, corner: 0 };
          }}
        />
      ))}
    </>
  );
}

/** A square in each cell where something fired falsely, its area by how often. */
function Where() {
  const where = masking.value.told?.where;
  if (!where) return null;
  const { columns, rows, counts } = where;
  const most = Math.max(1, ...counts);
  return (
    <>
      {counts.map((count, cell) => {
        if (count === 0) return null;
        const part = Math.max(0.25, Math.sqrt(count / most));
        const [column, row] = [cell % columns, Math.floor(cell / columns)];
        return (
          <rect
            key={cell}
            class="where"
            x={(column + 0.5 - part / 2) / columns}
            y={(row + 0.5 - part / 2) / rows}
            width={part / columns}
            height={part / rows}
          />
        );
      })}
    </>
  );
}
