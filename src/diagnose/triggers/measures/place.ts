import { type Look, medianByte, pixelsOf } from '../look.js';
import { type Rhythm, rhythm } from './rhythm.js';

/** What the place that fired did in the seconds before and after. */
export interface Place {
  /** Share of the other frames in which a tenth of the region changed by the threshold. */
  active: number;
  /** How many times it did so, with rest between. */
  times: number;
  /** Seconds that were looked at. */
  seconds: number;
  /** How far it stayed from how it was: 0 it looks again as before, 1 the change remains. */
  remains: number;
  /** Seconds for which it looked unlike the rest of the time, around the trigger; the whole stretch where it never ended. */
  lasted: number;
  rhythm: Rhythm | null;
}

const MOST = 1500;
/** Share of the region that must have changed for the place to count as active. */
const TENTH = 0.1;
/** Share of the region that must look unlike the rest of the time. */
const UNLIKE = 0.3;
const MEDIAN_OF = 25;
/** Seconds before and after the trigger that are compared: near it, and up to so far away. */
const NEAR = 0.5;
const FAR = 3.5;

export function place(look: Look): Place {
  const { frames, at, lag, level, region, reference } = look;
  const inside = pixelsOf(region, MOST);
  const { y } = frames[at]!;
  const first = frames[0]!.time;
  const last = frames.at(-1)!.time;
  // The region's pixels of every frame, side by side: they are gone through many times.
  const looks = frames.map((f) => gathered(f.y, inside));

  let [active, counted, bouts] = [0, 0, 0];
  let resting = true;
  for (let j = lag; j < frames.length; j++) {
    const moved = differing(looks[j]!, looks[j - lag]!, level) >= TENTH;
    if (moved && resting) bouts++;
    resting = !moved;
    if (Math.abs(j - at) <= lag) continue;
    counted++;
    if (moved) active++;
  }

  const usual = usualLook(looks);
  const unlike = (j: number) => differing(looks[j]!, usual, Math.max(2, level / 2)) >= UNLIKE;
  let [from, to] = [at, at];
  while (from > 0 && unlike(from - 1)) from--;
  while (to < frames.length - 1 && unlike(to + 1)) to++;

  // Along the change itself, so that a patch that goes light and dark at once does not cancel out.
  const signs = Int8Array.from(inside, (i) => Math.sign(y[i]! - reference[i]!));
  const series = looks.map((now) => {
    let sum = 0;
    for (let j = 0; j < now.length; j++) sum += signs[j]! * now[j]!;
    return sum / Math.max(1, now.length);
  });
  return {
    active: counted === 0 ? 0 : active / counted,
    times: bouts,
    seconds: last - first,
    remains: remains(look, inside, looks),
    lasted: frames[to]!.time - frames[from]!.time,
    rhythm: rhythm(
      frames.map((f) => f.time),
      series,
    ),
  };
}

function gathered(y: Uint8Array, inside: Int32Array): Uint8Array {
  const out = new Uint8Array(inside.length);
  for (let j = 0; j < out.length; j++) out[j] = y[inside[j]!]!;
  return out;
}

/** Share of pixels that differ by at least `level`. */
function differing(a: Uint8Array, b: Uint8Array, level: number): number {
  let n = 0;
  for (let j = 0; j < a.length; j++) if (Math.abs(a[j]! - b[j]!) >= level) n++;
  return a.length === 0 ? 0 : n / a.length;
}

/** How the place looks most of the time. */
function usualLook(looks: readonly Uint8Array[]): Uint8Array {
  const step = Math.max(1, Math.floor(looks.length / MEDIAN_OF));
  const some = looks.filter((_, j) => j % step === 0);
  const column = new Uint8Array(some.length);
  const out = new Uint8Array(some[0]!.length);
  for (let i = 0; i < out.length; i++) {
    for (let j = 0; j < some.length; j++) column[j] = some[j]![i]!;
    out[i] = medianByte(column);
  }
  return out;
}

/** @param looks the region's pixels of every frame */
function remains({ frames, at, reference }: Look, inside: Int32Array, looks: readonly Uint8Array[]): number {
  const { y, time } = frames[at]!;
  const within = (from: number, to: number) =>
    looks.filter((_, j) => frames[j]!.time - time >= from && frames[j]!.time - time <= to);
  const before = within(-FAR, -NEAR);
  const after = within(NEAR, FAR);
  if (before.length === 0 || after.length === 0) return 0;
  const [b, a] = [summed(before), summed(after)];
  let [stays, changed] = [0, 0];
  for (let j = 0; j < inside.length; j++) {
    const i = inside[j]!;
    stays += Math.abs(a[j]! / after.length - b[j]! / before.length);
    changed += Math.abs(y[i]! - reference[i]!);
  }
  return changed === 0 ? 0 : stays / changed;
}

/** Pixel by pixel. */
function summed(looks: readonly Uint8Array[]): Uint32Array {
  const sum = new Uint32Array(looks[0]!.length);
  for (const look of looks) for (let j = 0; j < sum.length; j++) sum[j]! += look[j]!;
  return sum;
}
