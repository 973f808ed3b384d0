/** A figure that simulated weather rests on, where neither the clip nor the camera gives it. */
export interface Assumption {
  /** The weather that it makes. */
  weather: 'wind' | 'rain' | 'low light';
  /** Other weather that it makes as well. */
  also?: 'rain';
  /** What it is, to be read after "whatever" and before "is": "the reach of branches". */
  what: string;
  figure: number;
  /** To be read after the figure; empty for a bare number. */
  unit: string;
  /** Where the figure comes from: a publication, or "assumed". */
  source: string;
  /** What the owner can do to know it: a whole sentence. */
  measure: string;
  /** Doubled it goes no further: nothing can be more than all of something. */
  most?: number;
  /** It is made of only where there is one. */
  needs?: 'cover';
}

/** A table of assumptions by name, each name kept. */
export function table<Name extends string>(
  assumptions: Record<Name, Assumption>,
): Readonly<Record<Name, Assumption>> {
  return assumptions;
}
