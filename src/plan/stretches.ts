import { type Kind, keyOfKind } from './kind.js';

/** Hours in a row of one kind and one setting: from the place of the first to the place after the last. */
export interface HoursInARow {
  from: number;
  to: number;
  kind: Kind;
  setting: number;
}

/** Hours of like weather, like light and like settings, joined. */
export function stretchesOf(kinds: readonly Kind[], course: readonly number[]): HoursInARow[] {
  const rows: HoursInARow[] = [];
  kinds.forEach((kind, hour) => {
    const setting = course[hour]!;
    const last = rows.at(-1);
    const isLike =
      last &&
      keyOfKind(last.kind) === keyOfKind(kind) &&
      // Whatever it is set to, in the dark it is the same.
      (last.setting === setting || kind.light === 'too dark');
    if (isLike) last.to = hour + 1;
    else rows.push({ from: hour, to: hour + 1, kind, setting });
  });
  return rows;
}
