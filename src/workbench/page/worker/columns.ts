import type { EvidenceColumns } from '../../protocol.js';

/** Reads the server's bytes; see `EvidenceColumns`. Nothing is copied. */
export function columnsFrom(bytes: ArrayBuffer): EvidenceColumns {
  const [frames, count] = new Uint32Array(bytes, 0, 2) as unknown as [number, number];
  const levels = [...new Uint32Array(bytes, 8, count)];
  const head = Math.ceil((2 + count) / 2) * 8;
  const times = new Float64Array(bytes, head, frames);
  const columns = (first: number) =>
    new Map(
      levels.map((level, i) => [
        level,
        new Uint32Array(bytes, head + 8 * frames + 4 * frames * (first + i), frames),
      ]),
    );
  return { levels, times, changed: columns(0), region: columns(count) };
}
