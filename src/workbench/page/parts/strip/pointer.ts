import type { RefObject } from 'preact';
import { useRef } from 'preact/hooks';
import { choose, chosen } from '../../state/chosen.js';
import { showTime, time } from '../../state/clip.js';
import { change, labels } from '../../state/labels.js';
import { beginningOf, type Chosen, type Kind, listOf, moveEdge } from '../../state/sheet.js';
import { nearestTime } from './frames.js';
import { edgeAt, ROWS, type Span, timeOf } from './layout.js';

/** Pixels from an end within which it is taken hold of: for a mouse, and for a finger. */
const REACH = { mouse: 5, pen: 8, touch: 14 };

/** What a pointer that is down drags along. */
type Drag = { kind: 'now' } | { kind: 'edge'; of: Chosen; edge: 'start' | 'end'; joins: string };

const BANDS: readonly { kind: Kind; row: { y: number; height: number } }[] = [
  { kind: 'visits', row: ROWS.visits },
  { kind: 'ignored', row: ROWS.ignored },
  { kind: 'reviewed', row: ROWS.reviewed },
];
const WORDS: Record<Kind, string> = {
  visits: 'a visit',
  ignored: 'a stretch to ignore',
  reviewed: 'a stretch looked through',
};
let drags = 0;

/** Click or drag to go there; ends of stretches are dragged, frame by frame, and what is clicked is chosen. */
export function usePointer(canvas: RefObject<HTMLCanvasElement>, span: Span) {
  const dragged = useRef<Drag | null>(null);
  const place = (event: PointerEvent) => {
    const box = canvas.current!.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };
  const follow = (drag: Drag, x: number) => {
    const at = nearestTime(timeOf(Math.min(span.width, Math.max(0, x)), span));
    if (drag.kind === 'edge') {
      const { of, edge, joins } = drag;
      const what = `the ${edge} of ${WORDS[of.kind]} moved`;
      const before = listOf(labels.value, of.kind)[of.at]?.[edge];
      if (before !== at) change(what, (now) => moveEdge(now, of, edge, at), joins);
    }
    if (at !== time.value) showTime(at);
  };
  return {
    onPointerDown(event: PointerEvent) {
      if (event.button !== 0) return;
      canvas.current!.setPointerCapture(event.pointerId);
      const { x, y } = place(event);
      const found = grab(x, y, span, event.pointerType);
      if (found) {
        choose(found.of);
        dragged.current = { kind: 'edge', ...found, joins: `drag ${++drags}` };
        return;
      }
      const inside = stretchAt(x, y, span);
      if (inside) choose(inside);
      dragged.current = { kind: 'now' };
      follow(dragged.current, x);
    },
    onPointerMove(event: PointerEvent) {
      const { x, y } = place(event);
      if (dragged.current) follow(dragged.current, x);
      else canvas.current!.style.cursor = grab(x, y, span, event.pointerType) ? 'ew-resize' : 'pointer';
    },
    onPointerUp() {
      dragged.current = null;
    },
    onPointerCancel() {
      dragged.current = null;
    },
  };
}

function bandAt(y: number): Kind | null {
  return BANDS.find(({ row }) => y >= row.y - 1 && y < row.y + row.height + 1)?.kind ?? null;
}

function grab(
  x: number,
  y: number,
  span: Span,
  pointer: string,
): { of: Chosen; edge: 'start' | 'end' } | null {
  const kind = bandAt(y);
  if (!kind) return null;
  const own = chosen.value?.kind === kind ? chosen.value.at : null;
  const reach = pointer === 'touch' || pointer === 'pen' ? REACH[pointer] : REACH.mouse;
  const found = edgeAt(x, listOf(labels.value, kind), span, reach, own);
  if (found && beginningOf(listOf(labels.value, kind)[found.at]!) !== null) return null;
  return found && { of: { kind, at: found.at }, edge: found.edge };
}

function stretchAt(x: number, y: number, span: Span): Chosen | null {
  const kind = bandAt(y);
  if (!kind) return null;
  const at = timeOf(x, span);
  const found = listOf(labels.value, kind).findIndex(
    (one) => one.start <= at && at <= one.end && beginningOf(one) === null,
  );
  return found < 0 ? null : { kind, at: found };
}
