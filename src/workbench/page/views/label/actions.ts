import { signal } from '@preact/signals';
import { choose, chosen } from '../../state/chosen.js';
import { clip, frameAt, showTime, time } from '../../state/clip.js';
import { begun, change, changeSheet, labels } from '../../state/labels.js';
import { isSettled } from '../../state/pictures.js';
import { play, playing, stop } from '../../state/play.js';
import {
  begin,
  type Chosen,
  end,
  type Kind,
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
export const framing = signal(false);

/** Begins a stretch at the frame that is shown, or ends there what has begun. */
export function mark(kind: Kind): void {
  if (!clip.value) return;
  const { one } = NAMES[kind];
  const at = begun.value[kind];
  if (at === undefined) {
    const place = begin({ labels: labels.value, begun: begun.value }, kind, time.value).at;
    changeSheet(`${one} begun`, (sheet) => begin(sheet, kind, time.value).sheet);
    choose({ kind, at: place });
  } else {
    changeSheet(`${one} ended`, (sheet) => end(sheet, kind, time.value));
    choose({ kind, at });
  }
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
  changeSheet(`${NAMES[what.kind].one} deleted`, (sheet) => remove(sheet, what));
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
  else if (open) play((frame) => isSettled(open.id, frame));
}

/** Puts the keyboard into a field of the form; out of it leads Escape or Enter. */
export function enter(field: string): void {
  document.getElementById(field)?.focus();
}
