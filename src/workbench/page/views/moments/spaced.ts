/** Moments evenly spaced over a stretch, at most `apart` seconds from one another, ends left half as much. */
function spacedOver({ start, end }: { start: number; end: number }, apart: number): number[] {
  const count = Math.max(1, Math.ceil((end - start) / apart - 1e-9));
  return Array.from({ length: count }, (_, i) => start + ((i + 0.5) * (end - start)) / count);
}

/** Seconds before and after a moment that are shown with it. */
const AROUND = 0.6;
/** Pictures of one moment at most. */
const MOST_PICTURES = 12;

/** When the pictures that show a moment from beginning to end are of, seconds. */
export function picturesOf({ start, end }: { start: number; end: number }, seconds: number): number[] {
  const around = { start: Math.max(0, start - AROUND), end: Math.min(seconds, end + AROUND) };
  return spacedOver(around, Math.max(AROUND, (around.end - around.start) / MOST_PICTURES));
}

/** Seconds from one picture of a quiet stretch to the next: a visit that is shorter may slip between two. */
const APART = 1;

/** When the pictures to look through a quiet stretch by are of, seconds. */
export function picturesOfStretch(stretch: { start: number; end: number }): number[] {
  return spacedOver(stretch, APART);
}
