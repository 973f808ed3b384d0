import type { MaskEffect, MaskingTold } from '../../../diagnosis-protocol.js';

/** A visit as it is named and gone to. */
export interface VisitNamed {
  start: number;
  name: string;
}

/** The visits that are caught without a mask alone, and with it alone, in order of start. */
export function visitsChanged({ without, withIt }: Pick<MaskingTold, 'without' | 'withIt'>): {
  lost: VisitNamed[];
  gained: VisitNamed[];
} {
  const only = (one: MaskEffect, other: MaskEffect) =>
    one.visits.flatMap(({ start, name = 'visit', caught }, i) =>
      caught && !other.visits[i]?.caught ? [{ start, name }] : [],
    );
  return { lost: only(without, withIt), gained: only(withIt, without) };
}
