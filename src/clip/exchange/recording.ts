/** What a recording is called in what is written of it: 16 figures of its content's key, the same wherever it lies. */
export function recordingId(contentKey: string): string {
  return contentKey.slice(0, 16);
}
