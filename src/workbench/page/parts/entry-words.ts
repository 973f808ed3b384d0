import { clock } from '../../../base/figures.js';
import type { visitTypes } from '../../../score/labels.js';
import type { Entry } from '../state/entries.js';

/** observationType of Camtrap DP, told plainly. */
export const TYPES: Record<(typeof visitTypes)[number], string> = {
  animal: 'an animal',
  human: 'a person',
  vehicle: 'a vehicle',
  blank: 'nothing after all',
  unknown: 'somebody, no telling who',
  unclassified: 'somebody, not looked at yet',
};

const OTHERS = { reviewed: 'looked through', ignored: 'ignored', causes: 'moved' };

/** '1:12.4 to 1:15.0'. */
export function spanInWords({ start, end }: Entry): string {
  return `${clock(start, 1)} to ${clock(end, 1)}`;
}

/** '1:12.4 to 1:15.0, wren, 2': one alone is not counted. */
export function entryInWords(field: 'visits' | keyof typeof OTHERS, entry: Entry): string {
  const { name, type, count, box, why, cause } = entry;
  const who =
    field === 'visits'
      ? [name, type === 'animal' && name !== undefined ? undefined : TYPES[type ?? 'animal']]
      : [OTHERS[field]];
  const rest = [count === undefined || count === 1 ? undefined : String(count), box && 'framed', why, cause];
  return [spanInWords(entry), ...who, ...rest].filter((part) => part !== undefined).join(', ');
}
