/**
 * Which pixels changed by at least the threshold, for every analysed frame whose area reaches the minimum. With these
 * a clip is replayed under any further mask exactly and without reading it again: masking only ever takes pixels away,
 * so a frame whose area stays below the minimum without a mask does so with one.
 */
export interface ChangeMaps {
  width: number;
  height: number;
  /** Analysed frames, rising. */
  places: readonly number[];
  /** The maps in order; `changed` holds 1 where a pixel changed, width * height bytes, the same array every time. */
  read(): AsyncIterable<{ place: number; changed: Uint8Array }>;
}
