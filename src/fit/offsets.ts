/** An offset at which many told times would meet predicted ones. */
export interface OffsetTried {
  offset: number;
  /** Pairs that meet, of all that there are: 1 where each meets one. */
  share: number;
}

/**
 * Offsets from `-farthest` to `farthest` at which told times meet predicted ones best, by the differences of all pairs of
 * which as many as possible lie within a window.
 * @param told rising
 * @param predicted rising
 * @param window seconds that pairs may lie apart, to either side
 */
export class OffsetFinder {
  private readonly bins: Uint32Array;
  private readonly width: number;
  private readonly reach: number;

  constructor(
    private readonly told: Float64Array,
    private readonly lowest: number,
    highest: number,
    window: number,
  ) {
    this.width = window / 5;
    this.reach = 5;
    this.bins = new Uint32Array(Math.ceil((highest - lowest) / this.width) + 1);
  }

  /** The best offset for these, the nearest to 0 of equally good ones. */
  best(predicted: ArrayLike<number>, count: number): OffsetTried {
    const { bins, width, reach, lowest, told } = this;
    bins.fill(0);
    const highest = lowest + (bins.length - 1) * width;
    let first = 0;
    for (const time of told) {
      while (first < count && time - predicted[first]! > highest) first++;
      for (let j = first; j < count && time - predicted[j]! >= lowest; j++) {
        bins[Math.round((time - predicted[j]! - lowest) / width)]!++;
      }
    }
    let within = 0;
    for (let bin = 0; bin < Math.min(reach, bins.length); bin++) within += bins[bin]!;
    let most = -1;
    let best: number[] = [];
    for (let bin = 0; bin < bins.length; bin++) {
      within += (bins[bin + reach] ?? 0) - (bins[bin - reach - 1] ?? 0);
      if (within > most) {
        most = within;
        best = [];
      }
      if (within === most) best.push(bin);
    }
    const offsets = best.map((bin) => lowest + bin * width);
    const nearest = offsets.reduce((a, b) => (Math.abs(b) < Math.abs(a) ? b : a));
    // Equally good ones stand side by side: the middle of those around the nearest.
    const around = offsets.filter((offset) => Math.abs(offset - nearest) <= 2 * reach * width);
    const offset = around.reduce((sum, one) => sum + one, 0) / around.length;
    return { offset, share: (2 * Math.min(most, told.length, count)) / (told.length + count) };
  }
}

/** The best of many, each at least `apart` seconds from those before it. */
export function bestApart(tried: readonly OffsetTried[], apart: number, most: number): OffsetTried[] {
  const kept: OffsetTried[] = [];
  const sorted = [...tried].sort((a, b) => b.share - a.share || Math.abs(a.offset) - Math.abs(b.offset));
  for (const one of sorted) {
    if (kept.length === most) break;
    if (kept.every(({ offset }) => Math.abs(offset - one.offset) >= apart)) kept.push(one);
  }
  return kept;
}
