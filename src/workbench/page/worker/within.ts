/** How much changed within the boxes of visits: for each level a count for each row of the clip's outcomes. */
export type WithinColumns = Map<number, Uint32Array>;

/** Reads the server's bytes; see routes/within.ts. Nothing is copied. */
export function withinFrom(bytes: ArrayBuffer): WithinColumns {
  const all = new Uint32Array(bytes);
  const [rows, levels] = all as unknown as [number, number];
  return new Map(
    Array.from({ length: levels }, (_, i) => {
      const from = 2 + levels + i * rows;
      return [all[2 + i]!, all.subarray(from, from + rows)];
    }),
  );
}
