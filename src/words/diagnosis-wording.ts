import type {
  Box,
  CauseSaid,
  ClipDiagnosis,
  ExplainedTrigger,
  MissedVisit,
  MissNote,
  MissReason,
} from '../diagnose/diagnosis.js';
import type { Polygon } from '../engine/mask.js';
import { clock, figure, plural } from './wording.js';

export const causeWords: Record<CauseSaid, string> = {
  wind: 'wind in vegetation',
  rain: 'rain',
  light: 'change of light',
  noise: 'sensor noise',
  insect: 'insect near the lens',
  shake: 'camera shake',
  shadow: 'moving shadow',
  visit: 'a visit just ended',
  unknown: 'unknown',
};

const reasonWords: Record<MissReason, string> = {
  'too faint': 'too faint',
  'too small': 'too small',
  'too brief': 'too brief',
  cooldown: 'the camera was busy',
  shutter: 'gone before the photo',
  masked: 'masked',
  absorbed: 'stood still until the camera took it for background',
};
const noteWords: Record<MissNote, string> = { 'too much changed': 'too much changed at once' };

/** Why it was missed, in a few words. */
export function reasonText({ why, note }: Pick<MissedVisit, 'why' | 'note'>): string {
  return note ? noteWords[note] : reasonWords[why];
}

export const modelNote =
  'Causes are likely ones, put down by a model that learnt on drawn scenes. Its probabilities were calibrated there; that they hold for real footage is an assumption.';
export const exactNote =
  'Missed visits and cures are no model’s work: they come from replaying these very frames. What would have caught a visit is priced on all labelled clips.';
export const practiceNote = 'Common practice of the trade, not measured on these clips.';

/** Capital first, full stop last. */
export function sentence(text: string): string {
  const capital = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(capital) ? capital : `${capital}.`;
}

/** wind in vegetation, 93 % */
export function causeText({ cause, probability }: ExplainedTrigger): string {
  return cause === 'unknown' || probability === null
    ? causeWords[cause]
    : `${causeWords[cause]}, ${Math.round(100 * probability)} %`;
}

/** Wind in vegetation 34, insect near the lens 4, unknown 1. */
export function causesText(counts: readonly { cause: CauseSaid; triggers: readonly unknown[] }[]): string {
  return sentence(counts.map(({ cause, triggers }) => `${causeWords[cause]} ${triggers.length}`).join(', '));
}

/** From 3:00 on for a minute; a dash where too few came for a minute to stand out. */
export function minuteText({ start, count }: { start: number; count: number }): string {
  return count < 2 ? '-' : `${clock(start)}-${clock(start + 60)} (${count})`;
}

/** A box that covers this share of the frame or more is not called a place in it. */
const NO_PLACE = 0.5;

/** Where most of some boxes lie, by the ninth of the picture that holds their middles. */
export function whereText(boxes: readonly Box[]): string {
  const counts = new Map<string, number>();
  for (const [x, y, w, h] of boxes) {
    const place = w * h >= NO_PLACE ? 'all over' : placeName(x + w / 2, y + h / 2);
    counts.set(place, (counts.get(place) ?? 0) + 1);
  }
  const [place, count] = [...counts].reduce((most, next) => (next[1] > most[1] ? next : most), ['', 0]);
  return count > boxes.length / 2 ? place : 'here and there';
}

/** lower left; middle: the ninth of the picture that holds a point, fractions of the frame. */
export function placeName(x: number, y: number): string {
  const third = (v: number) => Math.min(2, Math.max(0, Math.floor(3 * v)));
  return [
    ['upper left', 'top', 'upper right'],
    ['left', 'middle', 'right'],
    ['lower left', 'bottom', 'lower right'],
  ][third(y)]?.[third(x)] as string;
}

/** A polygon this near to an edge of the frame counts as reaching it. */
const AT_EDGE = 0.01;
/** What is wider or higher than this part of the frame is not called a corner. */
const CORNER = 0.6;

/** the corner at the lower left (a polygon of 4 corners, 12 % of the picture) */
export function polygonText(polygon: Polygon): string {
  return `${shapeText(polygon)} (a polygon of ${plural(polygon.length, 'corner')}, ${figure(100 * areaOf(polygon))} % of the picture)`;
}

/** A strip along a side, a corner, or a patch, by the edges of the frame that it reaches. */
function shapeText(polygon: Polygon): string {
  const ends = (axis: 0 | 1) => {
    const along = polygon.map((corner) => corner[axis]);
    return [along.reduce((a, b) => Math.min(a, b)), along.reduce((a, b) => Math.max(a, b))] as const;
  };
  const [[left, right], [top, bottom]] = [ends(0), ends(1)];
  const at = { left: left <= AT_EDGE, right: right >= 1 - AT_EDGE };
  const on = { top: top <= AT_EDGE, bottom: bottom >= 1 - AT_EDGE };
  if (on.top && on.bottom && at.left !== at.right)
    return `a strip along the ${at.left ? 'left' : 'right'} side`;
  if (at.left && at.right && on.top !== on.bottom) return `a strip along the ${on.top ? 'top' : 'bottom'}`;
  const small = right - left <= CORNER && bottom - top <= CORNER;
  if (small && at.left !== at.right && on.top !== on.bottom) {
    return `the corner at the ${on.top ? 'upper' : 'lower'} ${at.left ? 'left' : 'right'}`;
  }
  return `a patch at the ${placeName((left + right) / 2, (top + bottom) / 2)}`;
}

/** Share of the frame inside a polygon whose sides do not cross: the shoelace formula. */
function areaOf(polygon: Polygon): number {
  const twice = polygon.reduce((sum, [x, y], i) => {
    const [nextX, nextY] = polygon[(i + 1) % polygon.length] as [number, number];
    return sum + x * nextY - nextX * y;
  }, 0);
  return Math.abs(twice) / 2;
}

/** Which visits were caught by luck, and what that means; null where none was, or nothing tells. */
export function luckText({ judged, byLuck }: Pick<ClipDiagnosis, 'judged' | 'byLuck'>): string | null {
  if (byLuck.length === 0) return null;
  const which = byLuck.map((place) => {
    const { start, end, name } = judged.visits[place] as { start: number; end: number; name?: string };
    return `${clock(start)}-${clock(end)} ${name ?? 'an animal'}`;
  });
  const caught = judged.visits.filter((visit) => visit.caught).length;
  return `Of ${plural(caught, 'caught visit')} ${byLuck.length} by luck: ${which.join(', ')}. When it fired, nothing within the visit's box had changed enough; something else had, and the animal happened to be there.`;
}
