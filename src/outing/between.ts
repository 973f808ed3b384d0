/** A figure, and how low and how high it may be. */
export interface Between {
  value: number;
  low: number;
  high: number;
}

/** A figure that is taken as it is said. */
export function exactly(value: number): Between {
  return { value, low: value, high: value };
}

export function times({ value, low, high }: Between, factor: number): Between {
  return { value: value * factor, low: low * factor, high: high * factor };
}
