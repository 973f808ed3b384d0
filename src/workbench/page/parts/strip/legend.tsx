import { useEffect, useRef } from 'preact/hooks';
import type { JudgedTrigger } from '../../../../score/replayed.js';
import { drawMark, VERDICTS } from './marks.js';
import { palette } from './palette.js';

const SIDE = 14;

/** How to read a strip. */
export function Legend() {
  return (
    <details class="legend note">
      <summary>How to read it</summary>
      <ul>
        <li>
          Shades: how much changed, faint for a little; the lowest threshold at the bottom, the highest on
          top.
        </li>
        <li>
          <span class="sample caught" /> a visit that the dials as they stand catch,{' '}
          <span class="sample missed" /> one that they miss, <span class="sample other" /> a visit of somebody
          else than an animal
        </li>
        <li>
          <span class="sample ignored" /> time that counts for nothing, <span class="sample reviewed" /> time
          looked through (no line: all of it)
        </li>
        {VERDICTS.map(({ verdict, text }) => (
          <li key={text}>
            <Mark verdict={verdict} /> would fire: {text}
          </li>
        ))}
      </ul>
    </details>
  );
}

function Mark({ verdict }: { verdict: JudgedTrigger['verdict'] }) {
  const ref = useRef<HTMLCanvasElement>(null);
  const colours = palette();
  useEffect(() => {
    const context = ref.current?.getContext('2d');
    if (!context) return;
    context.setTransform(2, 0, 0, 2, 0, 0);
    context.clearRect(0, 0, SIDE, SIDE);
    drawMark(context, SIDE / 2, SIDE / 2, verdict, colours);
  }, [verdict, colours]);
  return (
    <span aria-hidden="true">
      <canvas ref={ref} class="mark" width={2 * SIDE} height={2 * SIDE} />
    </span>
  );
}
