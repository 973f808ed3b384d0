/** To milliseconds: no clip tells more. */
export function roundSeconds(seconds: number): number {
  return Number(seconds.toFixed(3));
}
