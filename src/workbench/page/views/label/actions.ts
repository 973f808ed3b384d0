import { choose, chosen } from '../../state/chosen.js';
import { clip, frame, frameAt, showTime, step, time } from '../../state/clip.js';
import { begun, change, labels, session } from '../../state/labels.js';
import { OfClip } from '../../state/of-clip.js';
import { isSettled } from '../../state/pictures.js';
import { play, playing, stop } from '../../state/play.js';
import {
  begin,
  type Chosen,
  end,
  type Kind,
  letGo,
  listOf,
  moveEdge,
  neighbour,
  remove,
} from '../../state/sheet.js';

/** What a stretch of each kind is called. */
export const NAMES: Record<Kind, { one: string; which: string }> = {
  visits: { one: 'a visit', which: 'the visit' },
  ignored: { one: 'a stretch to ignore', which: 'the ignored stretch' },
  reviewed: { one: 'a stretch looked through', which: 'the stretch looked through' },
};

/** Whether a box is being drawn on the picture. */
export const framing = new OfClip(false);

/** Begins a stretch at the frame that is shown, or ends there what has begun. */
export function mark(kind: Kind): void {
  if (!clip.value) return;
  const { one } = NAMES[kind];
  const ended = end(labels.value, kind, time.value);
  if (ended) {
    session.value?.saw(listOf(ended.labels, kind)[ended.at]!);
    change(`${one} ended`, () => ended.labels);
    choose({ kind, at: ended.at });
  } else {
    change(`${one} begun`, (now) => begin(now, kind, time.value));
    choose(null);
  }
}

/** Lets go of what has begun and not ended. */
export function forget(kind: Kind): void {
  change(`the beginning of ${NAMES[kind].one} let go`, (now) => letGo(now, kind));
}

/** When what has begun of a kind did, shown. */
export function goToBegun(kind: Kind): void {
  const start = begun.value[kind];
  if (start !== undefined) showTime(start);
}

/** A frame on or back, which is looked at. */
export function stepLooking(frames: 1 | -1): void {
  const from = frame.value;
  step(frames);
  looked(Math.min(from, frame.value), Math.max(from, frame.value));
  session.value?.keepSeen();
}

/** The last frame stands until the clip's end. */
function looked(from: number, to: number): void {
  const open = clip.value;
  if (!open || from === to) return;
  const end = to === open.times.length - 1 ? open.seconds : open.times[to]!;
  session.value?.saw({ start: open.times[from]!, end });
}

/** Moves an end of what is chosen by so many frames, and shows it. */
export function nudge(edge: 'start' | 'end', frames: number): void {
  const what = chosen.value;
  const stretch = what && listOf(labels.value, what.kind)[what.at];
  const times = clip.value?.times;
  if (!what || !stretch || !times) return;
  const at = Math.min(times.length - 1, Math.max(0, frameAt(stretch[edge]) + frames));
  moveTo(what, edge, times[at]!);
}

/** Moves an end of what is chosen to the frame that is shown. */
export function setHere(edge: 'start' | 'end'): void {
  if (chosen.value) moveTo(chosen.value, edge, time.value);
}

function moveTo(what: Chosen, edge: 'start' | 'end', at: number): void {
  change(`the ${edge} of ${NAMES[what.kind].one} moved`, (now) => moveEdge(now, what, edge, at));
  showTime(listOf(labels.value, what.kind)[what.at]?.[edge] ?? at);
}

export function removeChosen(): void {
  const what = chosen.value;
  if (!what) return;
  change(`${NAMES[what.kind].one} deleted`, (now) => remove(now, what));
  choose(null);
  framing.value = false;
}

/** Goes to a stretch and chooses it. */
export function goTo(what: Chosen): void {
  const stretch = listOf(labels.value, what.kind)[what.at];
  if (!stretch) return;
  choose(what);
  showTime(stretch.start);
}

export function goToNeighbour(way: 1 | -1): void {
  const at = neighbour(labels.value, 'visits', time.value, way);
  if (at !== null) goTo({ kind: 'visits', at });
}

export function playOrStop(): void {
  const open = clip.value;
  if (playing.value) stop();
  else if (open) play((at) => isSettled(open.id, at), looked);
}

/** Puts the keyboard into a field of the form; out of it leads Escape or Enter. */
export function enter(field: string): void {
  document.getElementById(field)?.focus();
}
