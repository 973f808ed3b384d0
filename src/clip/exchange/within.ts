import type { Stretch } from '../../score/labels.js';

/** Brings stretches into a clip, and counts what does not fit into it. */
export class Within {
  outside = 0;
  cut = 0;
  /** Seconds from the clip to what lies outside and nearest to it: less than 0 before its start, else after its end. */
  nearest = Number.POSITIVE_INFINITY;

  /** @param seconds the clip's length */
  constructor(private readonly seconds: number) {}

  /** The part of a stretch that lies in the clip; null where none does. */
  fit(start: number, end: number): Stretch | null {
    if (start >= this.seconds || end < 0 || (start < 0 && end === 0)) {
      this.outside++;
      const off = end <= 0 ? end : start - this.seconds;
      if (Math.abs(off) < Math.abs(this.nearest)) this.nearest = off;
      return null;
    }
    const within = { start: Math.max(0, start), end: Math.min(this.seconds, end) };
    if (within.start !== start || within.end !== end) this.cut++;
    return within;
  }
}

/** Stretches joined where they meet, or where no more than `gap` seconds lie between them; in order of start. */
export function joined(stretches: readonly Stretch[], gap = 0): Stretch[] {
  const all: Stretch[] = [];
  for (const { start, end } of [...stretches].sort((a, b) => a.start - b.start)) {
    const last = all.at(-1);
    if (last && start <= last.end + gap) last.end = Math.max(last.end, end);
    else all.push({ start, end });
  }
  return all;
}
