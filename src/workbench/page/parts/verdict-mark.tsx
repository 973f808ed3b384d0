import type { JudgedTrigger } from '../../../score/replayed.js';
import './parts.css';

/** The shapes of the strip. */
const SHAPES = {
  true: 'M8,3.5A4.5,4.5 0 1 1 8,12.5A4.5,4.5 0 1 1 8,3.5Z',
  false: 'M8,3.5L12.5,12H3.5Z',
  ignored: 'M4.5,4.5H11.5V11.5H4.5Z',
  none: 'M8,3.5V12.5',
} as const;

/** A verdict's shape, to stand beside its word. */
export function VerdictMark({ verdict }: { verdict: JudgedTrigger['verdict'] }) {
  const kind = verdict ?? 'none';
  return (
    <svg class={`verdict-mark ${kind}`} viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
      <path d={SHAPES[kind]} />
    </svg>
  );
}
