import type { DialShown } from '../../../words/dials-shown.js';
import {
  KNOB_MIDDLE,
  KNOB_RADIUS,
  KNOB_SIZE,
  knobMarks,
  knobPointer,
  knobValue,
  SMALL_KNOB,
  smallKnobMarks,
} from '../../../words/knob.js';
import './knob.css';

/** A dial as a knob with its scale, as on the card and in the report; what it says is said around it. */
export function Knob({ dial, small = false }: { dial: DialShown; small?: boolean }) {
  const { text, small: font } = knobValue(dial);
  const corner = KNOB_MIDDLE - SMALL_KNOB / 2;
  const pointer = knobPointer(dial);
  return (
    <svg
      class={small ? 'knob small' : 'knob'}
      viewBox={
        small ? `${corner} ${corner} ${SMALL_KNOB} ${SMALL_KNOB - 12}` : `0 0 ${KNOB_SIZE} ${KNOB_SIZE - 22}`
      }
      aria-hidden="true"
    >
      <circle class="body" cx={KNOB_MIDDLE} cy={KNOB_MIDDLE} r={KNOB_RADIUS} />
      {(small ? smallKnobMarks(dial) : knobMarks(dial)).map(({ d, width, chosen, name }) => (
        <g key={d} class={chosen ? 'chosen' : undefined}>
          <path d={d} stroke-width={width} />
          {name && (
            <text x={name.x} y={name.y} dy="0.35em" text-anchor={name.anchor}>
              {name.text}
            </text>
          )}
        </g>
      ))}
      {pointer !== null && <path class="pointer" d={pointer} />}
      <text
        class="value"
        x={KNOB_MIDDLE}
        y={KNOB_MIDDLE}
        dy="0.36em"
        text-anchor="middle"
        font-size={small ? font : dial.chosen === null ? 11 : 20}
      >
        {text}
      </text>
    </svg>
  );
}
