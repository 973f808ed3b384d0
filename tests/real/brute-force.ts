import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';

/** A camera with one value on each dial; reference "previous" with lag 1, box radius 1, area "region", one photo. */
export interface BruteSetting {
  threshold: number;
  minimumArea: number;
  persistence: number;
  cooldown: number;
}

export interface BruteCounts {
  caught: number;
  trueTriggers: number;
  falseTriggers: number;
  ignoredTriggers: number;
}

/**
 * The job done the slow and obvious way: written from the file formats and rules alone, sharing nothing with the code
 * that it is compared with. It knows only what the clip of these tests needs: stills at the analysis size, listed
 * times, visits by animals.
 */
export class BruteForce {
  private readonly areas = new Map<number, number[]>();

  private constructor(
    readonly times: readonly number[],
    readonly visits: readonly { start: number; end: number }[],
    private readonly differences: readonly number[][],
    private readonly width: number,
  ) {}

  static async read(dir: string): Promise<BruteForce> {
    const { times } = JSON.parse(await readFile(join(dir, 'clip.json'), 'utf8')) as { times: number[] };
    const labels = JSON.parse(await readFile(join(dir, 'labels.json'), 'utf8')) as {
      visits: { start: number; end: number }[];
    };
    const differences: number[][] = [];
    let before: number[] | undefined;
    let width = 0;
    for (let k = 0; k < times.length; k++) {
      const { data, info } = await sharp(join(dir, 'frames', `${k}.png`))
        .raw()
        .toBuffer({ resolveWithObject: true });
      width = info.width;
      const now = boxMean(luma(data), info.width, info.height);
      const reference = before ?? now;
      differences.push(now.map((value, i) => Math.abs(value - reference[i]!)));
      before = now;
    }
    return new BruteForce(times, labels.visits, differences, width);
  }

  /** Length of the clip: the last time plus one mean interval. */
  get seconds(): number {
    const last = this.times.at(-1)!;
    return last + last / (this.times.length - 1);
  }

  /** What one setting would have caught and fired at. */
  count(setting: BruteSetting, shutterLag: number): BruteCounts {
    const counts = { caught: 0, trueTriggers: 0, falseTriggers: 0, ignoredTriggers: 0 };
    const caught = new Set<number>();
    for (const time of this.triggers(setting, shutterLag)) {
      const photo = time + shutterLag;
      const seen = this.visits.findIndex((v) => photo >= v.start - 1e-9 && photo <= v.end + 1e-9);
      if (seen >= 0) {
        caught.add(seen);
        counts.trueTriggers++;
      } else if (photo > this.seconds + 1e-9) counts.ignoredTriggers++;
      else counts.falseTriggers++;
    }
    return { ...counts, caught: caught.size };
  }

  private triggers(setting: BruteSetting, shutterLag: number): number[] {
    const areas = this.areasAt(setting.threshold);
    const fired: number[] = [];
    let inARow = 0;
    for (const [k, time] of this.times.entries()) {
      const last = fired.at(-1);
      if (last !== undefined && time < last + Math.max(setting.cooldown, shutterLag) - 1e-9) continue;
      inARow = areas[k]! >= setting.minimumArea ? inARow + 1 : 0;
      if (inARow < setting.persistence) continue;
      fired.push(time);
      inARow = 0;
    }
    return fired;
  }

  private areasAt(threshold: number): number[] {
    const known = this.areas.get(threshold);
    if (known) return known;
    const areas = this.differences.map((d) => largestRegion(d, this.width, threshold));
    this.areas.set(threshold, areas);
    return areas;
  }
}

function luma(rgb: Uint8Array): number[] {
  const grey: number[] = [];
  for (let i = 0; i < rgb.length; i += 3) {
    grey.push(Math.round((299 * rgb[i]! + 587 * rgb[i + 1]! + 114 * rgb[i + 2]!) / 1000));
  }
  return grey;
}

function boxMean(grey: number[], width: number, height: number): number[] {
  const within = (value: number, end: number) => Math.min(Math.max(value, 0), end - 1);
  return grey.map((_, i) => {
    let sum = 0;
    for (let dy = -1; dy <= 1; dy++) {
      for (let dx = -1; dx <= 1; dx++) {
        sum += grey[within(Math.floor(i / width) + dy, height) * width + within((i % width) + dx, width)]!;
      }
    }
    return Math.round(sum / 9);
  });
}

/** Flood fill: two pixels touch when neither row nor column differs by more than one. */
function largestRegion(difference: number[], width: number, threshold: number): number {
  const left = new Set<number>();
  difference.forEach((value, i) => {
    if (value >= threshold) left.add(i);
  });
  let largest = 0;
  for (const seed of left) {
    left.delete(seed);
    const region = [seed];
    for (const at of region) {
      for (let dx = -1; dx <= 1; dx++) {
        const column = (at % width) + dx;
        if (column < 0 || column >= width) continue;
        for (const next of [at + dx - width, at + dx, at + dx + width]) {
          if (left.delete(next)) region.push(next);
        }
      }
    }
    largest = Math.max(largest, region.length);
  }
  return largest;
}
