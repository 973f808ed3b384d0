/** An offset at which many told times would meet predicted ones. */
export interface OffsetTried {
  offset: number;
  /** Pairs that meet, of all that there are: 1 where each meets one. */
  share: number;
}

/** Finds at which offset told times meet predicted ones: where as many as possible of the differences of all pairs lie within a window. */
export class OffsetFinder {
  /** Of the differences of pairs, with room for the window beyond either end. */
  private readonly bins: Uint32Array;
  private readonly count: number;
  private readonly width: number;

  /**
   * @param told rising
   * @param lowest told time less predicted time, seconds; others are not tried
   * @param window seconds that pairs may lie apart, to either side
   */
  constructor(
    private readonly told: Float64Array,
    private readonly lowest: number,
    private readonly highest: number,
    window: number,
  ) {
    this.width = window / REACH;
    this.count = Math.ceil((highest - lowest) / this.width) + 1;
    this.bins = new Uint32Array(this.count + 2 * REACH + 1);
  }

  /**
   * The best offset for these, the nearest to 0 of equally good ones.
   * @param predicted rising
   * @param count how many of `predicted` count
   */
  best(predicted: ArrayLike<number>, count: number): OffsetTried {
    const { bins, width, lowest, highest, told } = this;
    this.fill(predicted, count);
    let within = 0;
    for (let at = 0; at < 2 * REACH; at++) within += bins[at]!;
    // Where no pair lies in reach each of a day's bins is as good as the next: none of them is gathered.
    let most = 1;
    let best: number[] = [];
    for (let bin = 0; bin < this.count; bin++) {
      within += bins[bin + 2 * REACH]!;
      if (within > most) {
        most = within;
        best = [];
      }
      if (within === most) best.push(bin);
      within -= bins[bin]!;
    }
    if (best.length === 0) return { offset: Math.min(highest, Math.max(lowest, 0)), share: 0 };
    const offsets = best.map((bin) => lowest + bin * width);
    const nearest = offsets.reduce((a, b) => (Math.abs(b) < Math.abs(a) ? b : a));
    // Equally good ones stand side by side: the middle of those around the nearest.
    const around = offsets.filter((offset) => Math.abs(offset - nearest) <= 2 * REACH * width);
    const offset = around.reduce((sum, one) => sum + one, 0) / around.length;
    return { offset, share: (2 * Math.min(most, told.length, count)) / (told.length + count) };
  }

  /** Counts the differences of all pairs, by bin. */
  private fill(predicted: ArrayLike<number>, count: number): void {
    const { bins, width, lowest, told } = this;
    const highest = lowest + (this.count - 1) * width;
    bins.fill(0);
    let first = 0;
    for (const time of told) {
      while (first < count && time - predicted[first]! > highest) first++;
      for (let j = first; j < count && time - predicted[j]! >= lowest; j++) {
        bins[REACH + Math.round((time - predicted[j]! - lowest) / width)]!++;
      }
    }
  }
}

/** Bins that the window reaches to either side. */
const REACH = 5;

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
