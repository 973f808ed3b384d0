/** What a camera sees of rain; each can be left out by itself. */
export const rainParts = [
  'struck leaves',
  'drips from leaves',
  'drips at the lens',
  'near drops',
  'far drops',
  'splashes',
  'drops on the cover',
  'haze',
  'wetness',
] as const;
export type RainPart = (typeof rainParts)[number];

/** Whether a part falls. */
export function falls(part: RainPart, { without = [] }: { without?: readonly RainPart[] | undefined }) {
  return !without.includes(part);
}
