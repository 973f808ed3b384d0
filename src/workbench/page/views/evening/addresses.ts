import type { PhotoListed } from '../../../evening-protocol.js';

/** Where the server has a photo: small, or as large as one looks at it. */
export function photoAddress(id: string, { name, version }: PhotoListed, large = false): string {
  const query = new URLSearchParams({ name, v: version, ...(large && { large: '' }) });
  return `api/evenings/${encodeURIComponent(id)}/photo?${query}`;
}
