import { batch } from '@preact/signals';
import type { Labels } from '../../../../score/labels.js';
import {
  asReviewed,
  asVisit,
  type Join,
  joinsIn,
  withFound,
  withoutVisits,
} from '../../../../tune/moments/visits.js';
import { clip } from '../../state/clip.js';
import { change, labels, undo } from '../../state/labels.js';
import { OfClip } from '../../state/of-clip.js';
import { workspace } from '../../state/workspace.js';
import { asked, knownNow, knownOf } from './asked.js';
import { type Cell, cellsOf, keyOf, takenApart } from './cells.js';

/** The questions on the sheet. It stays as it is while they are answered, so that nothing moves under the hand. */
export const sheet = new OfClip<readonly Cell[]>([]);
/** Keys of those of them that are ticked. */
export const ticked = new OfClip<ReadonlySet<number>>(new Set());
/** Which of the sheet is at hand, by its place on it. */
export const atHand = new OfClip(0);
/** Pictures that were taken apart instead of being answered together, until the next answer. */
export const parted = new OfClip(0);

/** Lays out the questions that matter most now. */
export function layOut(): void {
  const now = asked.value;
  batch(() => {
    sheet.value = now ? cellsOf(now.rows, now.order, knownNow.value) : [];
    ticked.value = new Set();
    atHand.value = 0;
    parted.value = 0;
  });
}

/** What is likely to be laid out after the sheet that is shown. */
export function nextSheet(): Cell[] {
  const now = asked.value;
  if (!now) return [];
  const shown = new Set(sheet.value.flat());
  const after = now.order.filter((place) => !now.rows[place]!.members.some((member) => shown.has(member)));
  return cellsOf(now.rows, after, knownNow.value);
}

export function tick(cell: Cell, on = !ticked.value.has(keyOf(cell))): void {
  const next = new Set(ticked.value);
  if (on) next.add(keyOf(cell));
  else next.delete(keyOf(cell));
  ticked.value = next;
}

/** Ticks all that nobody has answered yet; where they are ticked, none. */
export function tickAll(): void {
  const open = sheet.value.filter(isOpen).map(keyOf);
  const all = open.every((key) => ticked.value.has(key));
  ticked.value = new Set(all ? [] : open);
}

function isOpen(cell: Cell): boolean {
  return knownOf(cell) === null;
}

/** With nothing ticked, on to the next that nobody answered; from the last of a sheet to the next sheet. */
export function goOn(): void {
  // What is ticked waits for an answer.
  if (ticked.value.size > 0) return;
  const places = sheet.value.map((_, place) => place);
  const after = [...places.slice(atHand.value + 1), ...places.slice(0, atHand.value + 1)];
  const next = after.find((place) => isOpen(sheet.value[place]!));
  if (next === undefined) layOut();
  else atHand.value = next;
}

/** Those that an answer is of: the ticked ones, or where none is the one at hand. */
function chosen(): readonly Cell[] {
  return ticked.value.size > 0
    ? sheet.value.filter((cell) => ticked.value.has(keyOf(cell)))
    : sheet.value.slice(atHand.value, atHand.value + 1);
}

/** Takes those chosen apart into a question for each picture; what is ticked of single ones stays so. */
export function takeApart(): void {
  const several = chosen().filter((cell) => cell.length > 1);
  const [first] = several;
  if (first === undefined) return;
  batch(() => {
    sheet.value = takenApart(sheet.value, (cell) => several.includes(cell));
    const keys = new Set(several.map(keyOf));
    ticked.value = new Set([...ticked.value].filter((key) => !keys.has(key)));
    atHand.value = sheet.value.findIndex((cell) => keyOf(cell) === keyOf(first));
    parted.value = several.flat().length;
  });
}

export type Answer = 'animal' | 'person' | 'nothing';

/** The last answer, as far as it made one visit of several. */
interface Joined {
  joins: readonly Join[];
  after: Labels;
  /** Gives the same answer again with only overlapping ones joined. */
  again: () => void;
}

const lastJoined = new OfClip<Joined | null>(null);

/** Which visits the last answer made of several; none where labels were changed since. */
export function joinsNow(): readonly Join[] {
  const last = lastJoined.value;
  return last !== null && last.after === labels.value ? last.joins : [];
}

/** Takes back that the last answer joined visits; the answer itself stays. */
export function keepApart(): void {
  const last = lastJoined.value;
  if (!last || last.after !== labels.value) return;
  batch(() => {
    undo();
    last.again();
  });
}

/**
 * Says what the ticked ones are, or where none is ticked the one at hand; one step to undo. Several alike show nothing
 * together, but hardly ever one animal: they are taken apart instead, for a visit over all of them would be caught too easily.
 */
export function answer(as: Answer): void {
  if (as !== 'nothing' && chosen().some((cell) => cell.length > 1)) {
    takeApart();
    return;
  }
  say(chosen().flat(), as);
}

/** @param rest seconds of rest within which two visits become one; left out: as usual */
function say(members: readonly number[], as: Answer, rest?: number): void {
  const [open, camera, now] = [clip.value, workspace.value?.camera, asked.value];
  if (!open || !camera || !now || members.length === 0) return;
  const moments = members.map((member) => now.moments[member]!);
  const visits = moments.map((moment) => asVisit(moment, open.seconds));
  const looked = moments.map((moment) => asReviewed(moment, camera, open.seconds));
  const found = as === 'nothing' ? [] : visits;
  // A visit does not go on through a moment that shows nothing of it, or that nobody has answered.
  const wanted = as === 'person' ? 'person' : 'animal';
  const others = now.moments.filter((_, member) => !members.includes(member) && knownOf([member]) !== wanted);
  const joining = { parted: others, ...(rest !== undefined && { rest }) };
  const before = withoutVisits(labels.value, visits);
  batch(() => {
    change(`${moments.length === 1 ? 'a moment' : `${moments.length} moments`} called ${as}`, () =>
      withFound(before, looked, found, as === 'person' ? 'human' : 'animal', joining),
    );
    const after = labels.value;
    lastJoined.value = { joins: joinsIn(before, found, after), after, again: () => say(members, as, 0) };
    ticked.value = new Set();
    parted.value = 0;
    if (rest === undefined) goOn();
  });
}
