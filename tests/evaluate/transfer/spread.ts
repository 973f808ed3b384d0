/** How ratios are spread: quartiles, and the share of them within some factors of 1. */
export interface Spread {
  settings: number;
  low: number;
  median: number;
  high: number;
  within: (factor: number) => number;
  /** Below which a share of them lies. */
  at: (share: number) => number;
}

export function spreadOf(ratios: readonly number[]): Spread {
  const sorted = ratios.toSorted((a, b) => a - b);
  const at = (share: number) => {
    const place = share * (sorted.length - 1);
    const [below, above] = [sorted[Math.floor(place)], sorted[Math.ceil(place)]];
    return below === undefined || above === undefined
      ? Number.NaN
      : below * (above / below) ** (place - Math.floor(place));
  };
  return {
    settings: sorted.length,
    at,
    low: at(0.25),
    median: at(0.5),
    high: at(0.75),
    within: (factor) =>
      sorted.filter((r) => r <= factor && r >= 1 / factor).length / Math.max(1, sorted.length),
  };
}
