/**
 * The shape of each verdict in a square of 16, the same in the report and on the page: a shape tells it, its colour only says
 * it again. That of an animal is filled, the others are lines.
 */
export const VERDICT_MARKS = {
  true: 'M8,4A4,4 0 1 1 8,12A4,4 0 1 1 8,4Z',
  false: 'M4.5,4.5L11.5,11.5M4.5,11.5L11.5,4.5',
  ignored: 'M4.5,4.5H11.5V11.5H4.5Z',
  unjudged: 'M8,3.5L12.5,11.5H3.5Z',
} as const;
