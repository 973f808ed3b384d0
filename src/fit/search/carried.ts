import { referenceName } from './look.js';
import type { Tried } from './tried.js';

/** Descriptions that go into the next round. */
export const CARRIED = 2;
/** Closeness from which the first size leaves little open. */
export const NEARLY_ALL = 0.99;
/** Of closeness: what stops is carried on too where it comes nearly as near as what goes on. */
const AS_NEAR = 0.02;

/**
 * The best few of unlike references that go on whatever is photographed, among many the best of the other kind; and the best that
 * stops while busy, unless the first leave nothing open that it would explain.
 */
export function carriedOn(tried: readonly Tried[], most: number): Tried[] {
  const unlike = new Map<string, Tried>();
  for (const one of tried) {
    const name = `${referenceName(one.look.reference)} ${one.look.whileBusy}`;
    if (!unlike.has(name)) unlike.set(name, one);
  }
  const each = [...unlike.values()];
  const goOn = each.filter(({ look }) => look.whileBusy === 'continues');
  const few = goOn.slice(0, most);
  const kind = few[0]?.look.reference.kind;
  const other = most === CARRIED && goOn.find(({ look }) => look.reference.kind !== kind);
  const [stopped] = each.filter(({ look }) => look.whileBusy !== 'continues');
  const isOpen =
    stopped !== undefined &&
    !(few[0] && few[0].best.own >= NEARLY_ALL && stopped.best.own < few[0].best.own - AS_NEAR);
  return [...new Set([...few, ...(other ? [other] : []), ...(isOpen ? [stopped] : [])])];
}
