import type { PartTold } from '../../outing/evening/parts.js';
import type { EveningResult, EveningWritten } from './result.js';

/** The document of `evening --json`. No photo is named in it. */
export function eveningDocument({ folder, all, ...told }: EveningResult, written: EveningWritten) {
  const moment = (time: number) => new Date(time * 1000).toISOString().slice(0, 19);
  const part = ({ from, until, more, ...rest }: PartTold) => ({
    from: moment(from),
    until: moment(until),
    ...rest,
    chance: more,
  });
  return {
    ...told,
    out: told.out && { ...told.out, from: moment(told.out.from), until: moment(told.out.until) },
    byHour: told.byHour.map(part),
    byStretch: told.byStretch?.map(part) ?? null,
    next: told.next && { ...told.next, from: moment(told.next.from), until: moment(told.next.until) },
    files: { folder, found: all.length, ...written },
  };
}
