import { clock } from '../../../../base/figures.js';
import type { Labels, Stretch } from '../../../../score/labels.js';
import type { JudgedTrigger } from '../../../../score/replayed.js';
import { beginningOf, begunIn, type Chosen } from '../../state/sheet.js';
import { HEIGHT, lanesFor, ROWS, type Span, ticksOf, xOf } from './layout.js';
import { drawMark } from './marks.js';
import type { Palette } from './palette.js';
import type { Shades } from './shades.js';

/** All that a strip shows. */
export interface StripDrawn {
  span: Span;
  shades: Shades | null;
  labels: Labels;
  /** For each visit of the labels whether the dials as they stand catch it; null where that is not known. */
  caught: readonly (boolean | null)[];
  triggers: readonly JudgedTrigger[];
  chosen: Chosen | null;
  /** Seconds; what has begun lasts until now. */
  now: number;
  /** A part that another strip shows larger; null: none. */
  window: { from: number; to: number } | null;
}

/** Visits that overlap stand in so many rows at most. */
const MOST_LANES = 3;
/** Pixels under which two triggers of one verdict share a mark. */
const APART = 7;
const FONT = '11px system-ui, sans-serif';

/** @param scale pixels of the screen for one of the page */
export function drawStrip(
  context: CanvasRenderingContext2D,
  drawn: StripDrawn,
  colours: Palette,
  scale: number,
): void {
  const { span } = drawn;
  context.setTransform(scale, 0, 0, scale, 0, 0);
  context.clearRect(0, 0, span.width, HEIGHT);
  context.font = FONT;
  context.lineJoin = 'miter';
  drawShades(context, drawn, colours);
  drawVisits(context, drawn, colours);
  drawIgnored(context, drawn, colours);
  drawReviewed(context, drawn, colours);
  drawTriggers(context, drawn, colours);
  drawClock(context, span, colours);
  drawNow(context, drawn, colours);
}

function drawShades(
  context: CanvasRenderingContext2D,
  { span, shades, window }: StripDrawn,
  colours: Palette,
): void {
  const { y, height } = ROWS.shades;
  context.fillStyle = colours.card;
  context.fillRect(0, y, span.width, height);
  if (shades) {
    context.imageSmoothingEnabled = false;
    const x = xOf(shades.from, span);
    context.drawImage(shades.picture, x, y, xOf(shades.to, span) - x, height);
  }
  context.strokeStyle = colours.rule;
  context.lineWidth = 1;
  context.strokeRect(0.5, y + 0.5, span.width - 1, height - 1);
  if (!window) return;
  const [left, right] = [xOf(window.from, span), xOf(window.to, span)];
  context.strokeStyle = colours.ink;
  context.lineWidth = 1.5;
  context.strokeRect(left, y + 1, Math.max(2, right - left), height - 2);
}

/** A stretch's ends in pixels, wide enough to be seen; null where it is not in the span. */
function endsOf({ start, end }: Stretch, span: Span): { left: number; wide: number } | null {
  if (end < span.from || start > span.to) return null;
  const left = Math.max(-2, xOf(start, span));
  return { left, wide: Math.max(2, Math.min(span.width + 2, xOf(end, span)) - left) };
}

/** What has begun of a kind and not ended, up to now. */
function begunOf(kind: Chosen['kind'], { labels, now }: StripDrawn): Stretch[] {
  const start = begunIn(labels)[kind];
  return start === undefined ? [] : [{ start: Math.min(start, now), end: Math.max(start, now) }];
}

function drawVisits(context: CanvasRenderingContext2D, drawn: StripDrawn, colours: Palette): void {
  const { y, height } = ROWS.visits;
  const begun = begunOf('visits', drawn).map((one) => ({ ...one, type: 'animal' as const }));
  const visits: Labels['visits'] = [...drawn.labels.visits, ...begun];
  const { lanes, count } = lanesFor(visits, MOST_LANES);
  const tall = height / count;
  for (const [at, visit] of visits.entries()) {
    const ends = endsOf(visit, drawn.span);
    if (!ends) continue;
    const { left, wide } = ends;
    const top = y + lanes[at]! * tall;
    const animal = visit.type === 'animal';
    const missed = drawn.caught[at] === false;
    context.fillStyle = animal ? colours.caught : colours.ignored;
    context.globalAlpha = missed ? 0 : 0.28;
    context.fillRect(left, top + 0.5, wide, tall - 1);
    context.globalAlpha = 1;
    context.setLineDash(missed ? [3, 2] : []);
    context.strokeStyle = animal ? colours.caught : colours.ignored;
    context.lineWidth = 1;
    context.strokeRect(left + 0.5, top + 1, Math.max(1, wide - 1), tall - 2);
    context.setLineDash([]);
    if (count === 1) nameOn(context, visit.name ?? '', left, wide, top + tall - 5, colours);
    if (is(drawn.chosen, 'visits', at)) handles(context, left, wide, top, tall, colours);
  }
}

function nameOn(
  context: CanvasRenderingContext2D,
  name: string,
  left: number,
  wide: number,
  base: number,
  colours: Palette,
): void {
  const from = Math.max(0, left);
  if (name === '' || context.measureText(name).width + 6 > wide - (from - left)) return;
  context.fillStyle = colours.ink;
  context.textAlign = 'left';
  context.fillText(name, from + 3, base);
}

function drawIgnored(context: CanvasRenderingContext2D, drawn: StripDrawn, colours: Palette): void {
  const { y, height } = ROWS.ignored;
  const ignored: Stretch[] = [...(drawn.labels.ignored ?? []), ...begunOf('ignored', drawn)];
  for (const [at, stretch] of ignored.entries()) {
    const ends = endsOf(stretch, drawn.span);
    if (!ends || beginningOf(stretch) !== null) continue;
    const { left, wide } = ends;
    context.save();
    context.beginPath();
    context.rect(left, y, wide, height);
    context.clip();
    context.strokeStyle = colours.ignored;
    context.lineWidth = 1;
    context.beginPath();
    const first = Math.max(left, 0) - height;
    for (let x = first - (first % 4); x < Math.min(left + wide, drawn.span.width); x += 4) {
      context.moveTo(x, y + height);
      context.lineTo(x + height, y);
    }
    context.stroke();
    context.restore();
    context.strokeStyle = colours.ignored;
    context.strokeRect(left + 0.5, y + 0.5, Math.max(1, wide - 1), height - 1);
    if (is(drawn.chosen, 'ignored', at)) handles(context, left, wide, y, height, colours);
  }
}

/** What was looked through is ruled; all of it where the labels do not say. */
function drawReviewed(context: CanvasRenderingContext2D, drawn: StripDrawn, colours: Palette): void {
  const { y, height } = ROWS.reviewed;
  const stretches = [...(drawn.labels.reviewed ?? []), ...begunOf('reviewed', drawn)];
  for (const [at, stretch] of stretches.entries()) {
    const ends = endsOf(stretch, drawn.span);
    if (!ends) continue;
    context.fillStyle = colours.area;
    context.fillRect(ends.left, y + 1, ends.wide, height - 2);
    if (is(drawn.chosen, 'reviewed', at)) handles(context, ends.left, ends.wide, y - 1, height + 2, colours);
  }
}

function drawTriggers(
  context: CanvasRenderingContext2D,
  { span, triggers }: StripDrawn,
  colours: Palette,
): void {
  const middle = ROWS.triggers.y + ROWS.triggers.height / 2;
  const last = new Map<JudgedTrigger['verdict'], number>();
  for (const { time, verdict } of triggers) {
    if (time < span.from || time > span.to) continue;
    const x = xOf(time, span);
    const before = last.get(verdict);
    if (before !== undefined && x - before < APART) continue;
    last.set(verdict, x);
    drawMark(context, x, middle, verdict, colours);
  }
}

function drawClock(context: CanvasRenderingContext2D, span: Span, colours: Palette): void {
  const { y, height } = ROWS.clock;
  const { every, times } = ticksOf(span);
  context.fillStyle = colours.faint;
  context.strokeStyle = colours.rule;
  context.lineWidth = 1;
  for (const time of times) {
    const x = xOf(time, span);
    context.beginPath();
    context.moveTo(x, y - 2);
    context.lineTo(x, y + 2);
    context.stroke();
    context.textAlign = x < 20 ? 'left' : x > span.width - 20 ? 'right' : 'center';
    context.fillText(clock(time, every < 1 ? 1 : 0), Math.min(span.width, Math.max(0, x)), y + height - 3);
  }
}

function drawNow(context: CanvasRenderingContext2D, { span, now }: StripDrawn, colours: Palette): void {
  if (now < span.from || now > span.to) return;
  const x = xOf(now, span);
  const bottom = ROWS.clock.y;
  context.strokeStyle = colours.paper;
  context.lineWidth = 4;
  context.beginPath();
  context.moveTo(x, 0);
  context.lineTo(x, bottom);
  context.stroke();
  context.strokeStyle = colours.ink;
  context.lineWidth = 1.5;
  context.stroke();
  context.fillStyle = colours.ink;
  context.beginPath();
  context.moveTo(x - 5, 0);
  context.lineTo(x + 5, 0);
  context.lineTo(x, 7);
  context.fill();
}

function is(chosen: Chosen | null, kind: Chosen['kind'], at: number): boolean {
  return chosen?.kind === kind && chosen.at === at;
}

/** The chosen stretch has a frame, and at each end something to take hold of. */
function handles(
  context: CanvasRenderingContext2D,
  left: number,
  wide: number,
  top: number,
  tall: number,
  colours: Palette,
): void {
  context.strokeStyle = colours.ink;
  context.lineWidth = 2;
  context.strokeRect(left, top, wide, tall);
  context.fillStyle = colours.ink;
  for (const x of [left, left + wide]) context.fillRect(x - 2.5, top - 1, 5, tall + 2);
}
