/** Under which the server has a clip. */
export function addressOf(id: string): string {
  return `api/clips/${encodeURIComponent(id)}`;
}
