/** Whether advice that rests on simulated weather holds within how far off that may be, in a line; none where it does not, or cannot be told. */
export function heldWithin(holds: boolean | null): string[] {
  if (holds === null) return [];
  return [
    holds
      ? 'The advice holds at either end of how often simulated weather may fire the camera.'
      : 'At one end of how often simulated weather may fire the camera the advice would be another: record a clip in such weather before you rely on it.',
  ];
}
