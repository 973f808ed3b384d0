import type { JudgedTrigger } from '../../../score/replayed.js';
import { VERDICT_MARKS } from '../../../words/verdict-marks.js';
import './parts.css';

/** A verdict's shape, to stand beside its word. */
export function VerdictMark({ verdict }: { verdict: JudgedTrigger['verdict'] }) {
  const kind = verdict ?? 'unjudged';
  return (
    <svg class={`verdict-mark ${kind}`} viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
      <path d={VERDICT_MARKS[kind]} />
    </svg>
  );
}
