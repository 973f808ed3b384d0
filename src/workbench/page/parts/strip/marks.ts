import type { JudgedTrigger } from '../../../../score/replayed.js';
import { VERDICT_MARKS } from '../../../../words/verdict-marks.js';
import type { Palette } from './palette.js';

/** Of the square that marks are drawn in, pixels. */
const MIDDLE = 8;
const ROLES = { true: 'caught', false: 'nothing', ignored: 'ignored', unjudged: 'ink' } as const;

/** What a trigger turned out to be, in the words of the page. */
export const VERDICTS: readonly { verdict: JudgedTrigger['verdict']; text: string }[] = [
  { verdict: 'true', text: 'fired at an animal' },
  { verdict: 'false', text: 'fired at nothing' },
  { verdict: 'ignored', text: 'counts for nothing' },
  { verdict: null, text: 'not labelled' },
];

/** A trigger: its shape tells the verdict, its colour only says it again. */
export function drawMark(
  context: CanvasRenderingContext2D,
  x: number,
  y: number,
  verdict: JudgedTrigger['verdict'],
  colours: Palette,
): void {
  const mark = new Path2D(VERDICT_MARKS[verdict ?? 'unjudged']);
  const colour = colours[ROLES[verdict ?? 'unjudged']];
  context.save();
  context.translate(x - MIDDLE, y - MIDDLE);
  context.lineWidth = 1.6;
  context.strokeStyle = colour;
  context.fillStyle = colour;
  if (verdict === 'true') context.fill(mark);
  else context.stroke(mark);
  context.restore();
}
