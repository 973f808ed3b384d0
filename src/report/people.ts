import type { Labels, Visit } from '../score/labels.js';
import { indexOf } from '../score/stretch-index.js';
import type { Stretch } from '../score/stretches.js';
import type { Box, Canvas } from './canvas.js';

/** Seconds around a person's visit in which they may be half in view: hand labels are no more exact than that. */
const BEFORE_AND_AFTER = 1;
/** Part of the frame added to a person's box on every side: they move within their visit. */
const AROUND = 0.05;
/** Cells across what is blurred: so few that nobody can be recognised. */
const CELLS = 4;

/** Whether a picture may be shown: as it is, with people blurred, or not at all. */
export type Privacy = { kind: 'nobody' } | { kind: 'blur'; boxes: readonly Box[] } | { kind: 'leave out' };

/**
 * What to do about people in a picture. Where a person may be in view it is left out, unless an animal is in view too
 * and every such person has a box to blur.
 * @param moments seconds: when the picture is said to be taken, and its frame's own time
 * @param animal whether one is in view
 */
export function privacyAt(
  labels: Labels | null,
  moments: readonly number[],
  { animal }: { animal: boolean },
): Privacy {
  const { visits, around } = peopleOf(labels);
  const places = new Set(moments.flatMap((time) => indexOf(around).at(time)));
  const people = [...places].sort((a, b) => a - b).map((place) => visits[place]!);
  if (people.length === 0) return { kind: 'nobody' };
  const boxes = people.flatMap(({ box }) => (box ? [box] : []));
  return animal && boxes.length === people.length ? { kind: 'blur', boxes } : { kind: 'leave out' };
}

interface People {
  visits: readonly Visit[];
  /** When each of them may be in view. */
  around: readonly Stretch[];
}

const known = new WeakMap<Labels, People>();

function peopleOf(labels: Labels | null): People {
  const found = labels && known.get(labels);
  if (found) return found;
  const visits = (labels?.visits ?? []).filter(({ type }) => type === 'human');
  const around = visits.map(({ start, end }) => ({
    start: start - BEFORE_AND_AFTER,
    end: end + BEFORE_AND_AFTER,
  }));
  const people = { visits, around };
  if (labels) known.set(labels, people);
  return people;
}

/** Turns a box, and some way around it, into a few flat cells, each the mean of what it covers: nothing can be told from them. */
export function blurBox(canvas: Canvas, [x, y, w, h]: Box): void {
  const { width, height } = canvas.bitmap;
  const left = Math.max(0, Math.floor((x - AROUND) * width));
  const top = Math.max(0, Math.floor((y - AROUND) * height));
  const right = Math.min(width, Math.ceil((x + w + AROUND) * width));
  const bottom = Math.min(height, Math.ceil((y + h + AROUND) * height));
  const cell = Math.max(1, Math.ceil(Math.max(right - left, bottom - top) / CELLS));
  for (let cy = top; cy < bottom; cy += cell) {
    for (let cx = left; cx < right; cx += cell) {
      flatten(canvas, cx, cy, Math.min(right, cx + cell), Math.min(bottom, cy + cell));
    }
  }
}

function flatten(canvas: Canvas, left: number, top: number, right: number, bottom: number): void {
  const { width, data } = canvas.bitmap;
  for (let channel = 0; channel < 3; channel++) {
    const places: number[] = [];
    for (let y = top; y < bottom; y++) {
      for (let x = left; x < right; x++) places.push((y * width + x) * 4 + channel);
    }
    const mean = Math.round(places.reduce((sum, at) => sum + data[at]!, 0) / places.length);
    for (const at of places) data[at] = mean;
  }
}
