import { useRef } from 'preact/hooks';
import type { DialShown } from '../../../words/dials-shown.js';
import { meaningText } from '../../../words/meaning.js';
import { tidy } from '../../../words/wording.js';
import { Knob } from './knob.js';
import { placeByKey, placeByPointer } from './turning.js';

/** A dial of the camera that can be turned, by pointer and by keys. */
export function Dial({ dial, onTurn }: { dial: DialShown; onTurn: (position: number) => void }) {
  const { name, sets, positions, values, chosen } = dial;
  const dragged = useRef<number | null>(null);
  const last = positions.length - 1;
  const place = chosen ?? last >> 1;
  const meaning = meaningText(sets, values[place]!);
  // Positions that do not rise cannot stand as values of a slider; then their places do.
  const rising = positions.every((position, i) => i === 0 || position > positions[i - 1]!);
  const value = (at: number) => (rising ? positions[at] : at + 1);
  const turnTo = (to: number) => {
    if (to !== chosen) onTurn(positions[to]!);
  };
  const follow = (event: PointerEvent, from: number | null) => {
    const box = (event.currentTarget as HTMLElement).querySelector('circle')!.getBoundingClientRect();
    const to = placeByPointer(
      event.clientX - (box.left + box.right) / 2,
      event.clientY - (box.top + box.bottom) / 2,
      from,
      positions.length,
    );
    dragged.current = to;
    turnTo(to);
  };
  return (
    <div class="dial">
      <div
        class="turns"
        role="slider"
        tabIndex={0}
        aria-label={name}
        aria-valuemin={value(0)}
        aria-valuemax={value(last)}
        aria-valuenow={value(place)}
        aria-valuetext={`${name} ${tidy(positions[place]!)}: ${meaning}`}
        onKeyDown={(event) => {
          if (event.altKey || event.ctrlKey || event.metaKey) return;
          const to = placeByKey(event.key, place, positions.length);
          if (to === null) return;
          event.preventDefault();
          turnTo(to);
        }}
        onPointerDown={(event) => {
          if (event.button !== 0) return;
          event.currentTarget.setPointerCapture(event.pointerId);
          follow(event, null);
        }}
        onPointerMove={(event) => {
          if (dragged.current !== null) follow(event, dragged.current);
        }}
        onLostPointerCapture={() => {
          dragged.current = null;
        }}
      >
        <Knob dial={dial} />
        <span class="name">{name}</span>
      </div>
      <p class="note">{meaning}</p>
    </div>
  );
}
