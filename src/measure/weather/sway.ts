import { significant } from '../../base/figures.js';
import { Problem } from '../../base/problem.js';
import type { Camera } from '../../camera/description.js';
import type { Clip } from '../../clip/open.js';
import { luminance } from '../../engine/luminance.js';
import { MEASURED_RATE } from '../../weather/estimate.js';
import { type Motion, MotionMeter } from '../../weather/motion.js';
import type { Setup } from '../../weather/setup.js';
import { simulatedFrames } from './frames.js';
import { bursts, measuredSize, sampleOf } from './sample.js';
import { foliageOf, setupFor } from './setup-for.js';

/** Simulation is tried at no more than this width. */
const WIDTH = 320;
/** Tried, rising; between them the factor is interpolated. */
const FACTORS = [0.25, 0.5, 1, 2, 4] as const;
/** More shift than without any wind put on, for the windy clip to say anything. */
const CLEARLY_MORE = 1.1;

/** A sway factor as measured, and in words what it rests on. */
export interface MeasuredSway {
  factor: number;
  how: string;
}

/**
 * How far foliage of the site really goes: the factor on the assumed sway with which simulating a windy clip's wind on a
 * calm one moves its foliage as the windy clip's moves.
 * @param windy a clip of the same site; its clip.json must say its wind
 * @throws Problem 'usage' or 'bad-field' when the windy clip cannot tell
 */
export async function measureSway(
  calm: Clip,
  windy: Clip,
  camera: Pick<Camera, 'lens' | 'exposure' | 'sensor'>,
  seed: string,
): Promise<MeasuredSway> {
  const wind = windy.manifest.conditions?.wind;
  if (wind === undefined) {
    throw new Problem(
      'bad-field',
      `${windy.dir}/clip.json: conditions.wind: expected the Beaufort number it was recorded in, so that sway can be measured, found nothing; write it in`,
    );
  }
  const rate = Math.min(MEASURED_RATE, calm.rate, windy.rate);
  const seen = await motionOf(windy);
  if (seen.share === 0) {
    throw new Problem(
      'usage',
      `${windy.dir}: no foliage that could be measured was found; outline it in labels.json under "foliage", or leave --sway-from out`,
    );
  }
  const size = sizeOf(calm);
  const { setup } = await setupFor(calm, camera, { wind }, { ...size, seed });
  const still = await simulatedMotion(calm, { ...setup, sway: 0 }, rate);
  if (seen.shift <= still.shift * CLEARLY_MORE) {
    throw new Problem(
      'usage',
      `${windy.dir}: its foliage moves no more than that of ${calm.dir}, so sway cannot be measured from it; give a windier clip, or leave --sway-from out`,
    );
  }
  const shifts: number[] = [];
  for (const factor of FACTORS)
    shifts.push((await simulatedMotion(calm, { ...setup, sway: factor }, rate)).shift);
  return { factor: solve(seen.shift, shifts, still.shift), how: inWords(windy, wind, seen, shifts) };
}

function inWords(windy: Clip, wind: number, seen: Motion, shifts: readonly number[]): string {
  const least = shifts[0]!;
  const most = shifts.at(-1) as number;
  const beyond =
    seen.shift < least
      ? '; it moves less than any factor tried gives'
      : seen.shift > most
        ? '; it moves more than any factor tried gives'
        : '';
  return `sway measured on ${windy.dir} (Beaufort ${significant(wind, 3)}, a shift of ${significant(100 * seen.shift, 3)} % of the frame's width from frame to frame)${beyond}`;
}

/** The factor at which the shift is met, by straight lines between the factors tried; the ends where it lies beyond. */
export function solve(shift: number, shifts: readonly number[], still: number): number {
  const xs = [0, ...FACTORS];
  const ys = [still, ...shifts];
  for (let i = 1; i < xs.length; i++) {
    const [low, high] = [ys[i - 1]!, ys[i]!];
    if (shift > high || high <= low) continue;
    const [from, to] = [xs[i - 1]!, xs[i]!];
    const factor = from + (to - from) * Math.max(0, (shift - low) / (high - low));
    return Math.max(FACTORS[0], Number(factor.toPrecision(2)));
  }
  return xs.at(-1) as number;
}

function sizeOf(clip: Clip): { width: number; height: number } {
  const width = Math.min(WIDTH, clip.width);
  return { width, height: Math.max(1, Math.round((clip.height * width) / clip.width)) };
}

async function motionOf(clip: Clip): Promise<Motion> {
  const size = measuredSize(clip);
  const { map } = await foliageOf(clip, size.width, size.height);
  const meter = new MotionMeter(size.width, size.height, map);
  const sample = await sampleOf(clip);
  for (const run of sample.runs) {
    meter.restart();
    for (const { y } of run) meter.see(luminance(y, 1, sample.width, sample.height, size.width, size.height));
  }
  return meter.measure();
}

async function simulatedMotion(clip: Clip, setup: Setup, rate: number): Promise<Motion> {
  const size = measuredSize(clip);
  const reduced = (y: Uint8Array) => luminance(y, 1, setup.width, setup.height, size.width, size.height);
  const meter = new MotionMeter(size.width, size.height, reduced(setup.foliage));
  for (const burst of bursts(clip, rate)) {
    meter.restart();
    for await (const y of simulatedFrames(clip, burst, setup)) meter.see(reduced(y));
  }
  return meter.measure();
}
