/** A verdict in one word; of an animal its name stands there where it is known. */
export const verdictWords = {
  true: 'caught',
  false: 'nothing',
  ignored: 'ignored',
  none: 'not labelled',
} as const;
