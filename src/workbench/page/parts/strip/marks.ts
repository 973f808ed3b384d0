import type { JudgedTrigger } from '../../../../score/replayed.js';
import type { Palette } from './palette.js';

/** Radius of a mark in pixels. */
const SIZE = 4.5;

/** What a trigger turned out to be, in the words of the page. */
export const VERDICTS: readonly { verdict: JudgedTrigger['verdict']; text: string }[] = [
  { verdict: 'true', text: 'a photo of an animal' },
  { verdict: 'false', text: 'a photo of nothing' },
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
  context.beginPath();
  context.lineWidth = 1.6;
  switch (verdict) {
    case 'true':
      context.fillStyle = colours.caught;
      context.arc(x, y, SIZE, 0, 2 * Math.PI);
      context.fill();
      return;
    case 'false':
      context.strokeStyle = colours.nothing;
      context.moveTo(x, y - SIZE);
      context.lineTo(x + SIZE, y + SIZE - 0.5);
      context.lineTo(x - SIZE, y + SIZE - 0.5);
      context.closePath();
      break;
    case 'ignored':
      context.strokeStyle = colours.ignored;
      context.rect(x - SIZE + 1, y - SIZE + 1, 2 * SIZE - 2, 2 * SIZE - 2);
      break;
    case null:
      context.strokeStyle = colours.ink;
      context.moveTo(x, y - SIZE);
      context.lineTo(x, y + SIZE);
      break;
  }
  context.stroke();
}
