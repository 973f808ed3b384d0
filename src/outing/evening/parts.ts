import type { Rate } from '../../score/intervals.js';
import { hoursIn, type Outing, type Span } from './hours-out.js';
import { HOUR, hourOfDay, type TimedPhoto } from './photo.js';
import type { PromisedPart, PromisedStretch } from './promise.js';
import { type Tally, tallyOf } from './tally.js';
import { nothingRate, tailsOf } from './verdict.js';

/** A part of the hours out: a stretch of a plan, or an hour of the day. */
export interface Part<P extends TimedPhoto = TimedPhoto> {
  /** By the camera's clock; of an hour of the day, of the first such hour. */
  from: number;
  until: number;
  conditions: readonly string[] | null;
  /** That photos are counted over. */
  hours: number;
  /** All that were taken in it. */
  photos: readonly P[];
  /** Those of them that count in a rate. */
  counted: readonly P[];
  promised: PromisedPart | null;
}

/** What the hours out are told by: stretches that were promised something, and whatever lies between them by itself. */
export function partsByStretch<P extends TimedPhoto>(
  { out, photos, counting, counted }: Outing<P>,
  stretches: readonly PromisedStretch[],
): Part<P>[] {
  const parts: Part<P>[] = [];
  const add = (from: number, until: number, stretch: PromisedStretch | null) => {
    if (!(until > from)) return;
    const hours = hoursWithin({ from, until }, counting);
    const perHour = hours > 0 ? (stretch?.nothingPerHour ?? null) : null;
    const within = ({ time }: P) => time >= from && (time < until || until === out.until);
    parts.push({
      from,
      until,
      conditions: stretch?.conditions ?? null,
      hours,
      photos: photos.filter(within),
      counted: counted.filter(within),
      promised: perHour && { hours, perHour },
    });
  };
  let at = out.from;
  for (const stretch of [...stretches].sort((a, b) => a.from - b.from)) {
    const from = Math.max(at, stretch.from);
    const until = Math.min(out.until, stretch.until);
    if (until <= from) continue;
    add(at, from, null);
    add(from, until, stretch);
    at = until;
  }
  add(at, out.until, null);
  return parts;
}

/** The hours of the day that the camera was out in, each with the hours of all days together. */
export function partsByHour<P extends TimedPhoto>(
  { out, photos, counting, counted }: Outing<P>,
  stretches: readonly PromisedStretch[],
): Part<P>[] {
  const byHour = new Map<number, Part<P>>();
  const last = photos.at(-1)?.time ?? out.from;
  for (let from = out.from; from < out.until || from <= last; ) {
    const until = (Math.floor(from / HOUR) + 1) * HOUR;
    const hour = hourOfDay(from);
    const hours = hoursWithin({ from, until }, counting);
    const before = byHour.get(hour);
    if (before) byHour.set(hour, { ...before, hours: before.hours + hours });
    else {
      const start = Math.floor(from / HOUR) * HOUR;
      byHour.set(hour, {
        from: start,
        until: start + HOUR,
        conditions: null,
        hours,
        photos: [],
        counted: [],
        promised: null,
      });
    }
    from = until;
  }
  const perHour = stretches.length === 1 ? stretches[0]!.nothingPerHour : null;
  return [...byHour].map(([hour, part]) => ({
    ...part,
    photos: photos.filter(({ time }) => hourOfDay(time) === hour),
    counted: counted.filter(({ time }) => hourOfDay(time) === hour),
    promised: perHour && part.hours > 0 ? { hours: part.hours, perHour } : null,
  }));
}

/** Hours of a stretch that lie in another. */
function hoursWithin({ from, until }: Span, within: Span): number {
  return hoursIn({ from: Math.max(from, within.from), until: Math.min(until, within.until) });
}

/** Photos of nothing of a part, in order of time. */
export function nothingIn({ counted }: { counted: readonly TimedPhoto[] }): number[] {
  return counted.filter(({ seen }) => seen === 'nothing').map(({ time }) => time);
}

/** Photos of a part that may be of nothing, because nobody has marked them, in order of time. */
export function unmarkedIn({ counted }: { counted: readonly TimedPhoto[] }): number[] {
  return counted.filter(({ seen }) => seen === null).map(({ time }) => time);
}

/** Parts of like weather as one each; those of which nobody said it are left out. */
export function byConditions<P extends TimedPhoto>(
  parts: readonly Part<P>[],
): { conditions: string; part: Part<P> }[] {
  const pooled = new Map<string, Part<P>>();
  for (const part of parts) {
    if (!part.conditions) continue;
    const name = [...part.conditions].sort().join(', ');
    const before = pooled.get(name);
    pooled.set(
      name,
      before
        ? {
            ...before,
            hours: before.hours + part.hours,
            photos: [...before.photos, ...part.photos],
            counted: [...before.counted, ...part.counted],
          }
        : { ...part, promised: null },
    );
  }
  return [...pooled].map(([conditions, part]) => ({ conditions, part }));
}

/** What came in a part, and how that stands to what was promised for it. */
export interface PartTold extends Tally {
  from: number;
  until: number;
  conditions: readonly string[] | null;
  hours: number;
  nothingPerHour: Rate | null;
  /** Photos of nothing an hour; null: nothing was promised. */
  promised: { value: number; low: number; high: number } | null;
  /** How likely so many of nothing, or more, were the promise true. */
  more: number | null;
}

export function partTold(part: Part): PartTold {
  const { from, until, conditions, hours, promised } = part;
  const nothing = nothingIn(part);
  return {
    from,
    until,
    conditions,
    hours,
    ...tallyOf(part.photos),
    nothingPerHour: nothingRate(nothing, hours, unmarkedIn(part)),
    promised: promised?.perHour ?? null,
    more: promised && tailsOf(nothing, [promised]).more,
  };
}
