import { useEffect, useLayoutEffect, useRef } from 'preact/hooks';
import { chosen } from '../../state/chosen.js';
import { time } from '../../state/clip.js';
import { change, labels } from '../../state/labels.js';
import { sayOfVisit } from '../../state/sheet.js';
import { framing } from './actions.js';
import { type Box, boxBetween, MIDDLE, movedBox, widenedBox } from './box.js';

/** Of the frame, for an arrow key. */
const STEP = 0.01;
const ARROWS: Record<string, [number, number]> = {
  ArrowRight: [STEP, 0],
  ArrowLeft: [-STEP, 0],
  ArrowDown: [0, STEP],
  ArrowUp: [0, -STEP],
};
let boxes = 0;

/** The chosen visit's box over the picture; while it is being drawn, by pointer or by keyboard, all of the picture. */
export function BoxLayer() {
  const what = chosen.value;
  const visit = what?.kind === 'visits' ? labels.value.visits[what.at] : undefined;
  if (!what || !visit) return null;
  if (framing.value) return <Drawing at={what.at} box={visit.box ?? null} />;
  const inView = time.value >= visit.start && time.value <= visit.end;
  return visit.box && inView ? <Outline box={visit.box} /> : null;
}

function Outline({ box }: { box: Box }) {
  const ref = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const [left, top, width, height] = box.map((part) => `${100 * part}%`) as [
      string,
      string,
      string,
      string,
    ];
    if (ref.current) Object.assign(ref.current.style, { left, top, width, height });
  }, [box]);
  return <div ref={ref} class="box" />;
}

function Drawing({ at, box }: { at: number; box: Box | null }) {
  const layer = useRef<HTMLDivElement>(null);
  const from = useRef<{ x: number; y: number } | null>(null);
  const go = useRef('');
  // Before the next key comes, which is meant for the box already.
  useLayoutEffect(() => {
    go.current = `box ${++boxes}`;
    const back = document.activeElement;
    layer.current?.focus();
    return () => {
      // Another visit is chosen, or the box is done.
      framing.value = false;
      if (back instanceof HTMLElement && back.isConnected) back.focus();
    };
  }, [at]);
  const say = (next: Box) => change('a box drawn', (now) => sayOfVisit(now, at, { box: next }), go.current);
  const place = (event: PointerEvent) => {
    const frame = layer.current!.getBoundingClientRect();
    return { x: (event.clientX - frame.left) / frame.width, y: (event.clientY - frame.top) / frame.height };
  };
  return (
    <div
      ref={layer}
      class="drawing"
      role="application"
      tabIndex={-1}
      aria-label={`${box ? `Box, ${inWords(box)}` : 'No box yet'}. Arrows move it, Shift with arrows widens it, Enter is done.`}
      onKeyDown={(event) => {
        const arrow = ARROWS[event.key];
        if (event.key === 'Enter' || event.key === 'Escape') framing.value = false;
        else if (arrow && !box) say(MIDDLE);
        else if (arrow && box) say(event.shiftKey ? widenedBox(box, ...arrow) : movedBox(box, ...arrow));
        else return;
        event.preventDefault();
      }}
      onPointerDown={(event) => {
        if (event.button !== 0) return;
        layer.current!.setPointerCapture(event.pointerId);
        from.current = place(event);
      }}
      onPointerMove={(event) => {
        const next = from.current && boxBetween(from.current, place(event));
        if (next) say(next);
      }}
      onPointerUp={() => {
        from.current = null;
      }}
      onPointerCancel={() => {
        from.current = null;
      }}
    >
      {box && <Outline box={box} />}
      <p>Draw a box with the pointer, or move it with the arrow keys. Enter: done.</p>
    </div>
  );
}

function inWords([x, y, width, height]: Box): string {
  const [left, top, wide, high] = [x, y, width, height].map((part) => `${Math.round(100 * part)} %`);
  return `${left} from the left, ${top} from the top, ${wide} wide, ${high} high`;
}
