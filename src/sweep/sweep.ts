import type { Settings } from '../camera/settings.js';
import type { Counts } from '../score/score.js';
import type { Truth } from '../score/truth.js';
import type { ColumnSource } from './columns.js';
import type { Grid } from './grid.js';
import { findRuns, march, roomForRuns } from './march.js';
import { IGNORED, type Outcomes, TRUE } from './outcomes.js';

/** A stretch of a clip, or all of it, to be replayed from an idle camera and counted by itself. */
export interface SweepPart {
  /** Its first analysed frame. */
  from: number;
  /** Times of its frames, seconds from the clip's start. */
  times: Float64Array;
  truth: Truth;
  outcomes: Outcomes;
}

/** What the sweep needs of one clip. */
export interface SweepClip extends Omit<SweepPart, 'from'>, ColumnSource {}

/** What a camera brings to the sweep besides its dials. */
export interface SweepCamera {
  area: 'region' | 'changed';
  /** Pixels of the whole frame. */
  framePixels: number;
  busyOf(cooldown: number): number;
  levelOf(threshold: number): number;
}

/** Counts of one clip for every setting of a grid; typed arrays indexed by the setting's number. */
export class SweepCounts {
  readonly caught: Uint32Array;
  readonly trueTriggers: Uint32Array;
  readonly falseTriggers: Uint32Array;
  readonly ignoredTriggers: Uint32Array;
  /** For each setting one bit for each visit, in whole words. */
  private readonly visitBits: Uint32Array;
  private readonly words: number;

  constructor(
    settings: number,
    readonly truth: Truth,
  ) {
    this.words = wordsFor(truth);
    this.visitBits = new Uint32Array(settings * this.words);
    this.caught = new Uint32Array(settings);
    this.trueTriggers = new Uint32Array(settings);
    this.falseTriggers = new Uint32Array(settings);
    this.ignoredTriggers = new Uint32Array(settings);
  }

  /** @param visitBits which visits were caught, bit by bit */
  set(setting: number, counts: TriggerCounts, visitBits: Uint32Array): void {
    this.caught[setting] = counts.caught;
    this.trueTriggers[setting] = counts.trueTriggers;
    this.falseTriggers[setting] = counts.falseTriggers;
    this.ignoredTriggers[setting] = counts.ignoredTriggers;
    this.visitBits.set(visitBits, setting * this.words);
  }

  /** Whether a setting caught a visit, by its place in the truth's list. */
  caughtVisit(setting: number, visit: number): boolean {
    return hasBit(this.visitBits, visit, setting * this.words);
  }

  at(setting: number): Counts {
    return {
      visits: this.truth.visits.length,
      caught: this.caught[setting]!,
      trueTriggers: this.trueTriggers[setting]!,
      falseTriggers: this.falseTriggers[setting]!,
      ignoredTriggers: this.ignoredTriggers[setting]!,
      watchedSeconds: this.truth.watchedSeconds,
    };
  }
}

type TriggerCounts = Omit<Counts, 'visits' | 'watchedSeconds'>;

/** Room for a bit for each visit of a clip. */
export function wordsFor(truth: Truth): number {
  return Math.ceil(truth.visits.length / 32);
}

function hasBit(bits: Uint32Array, place: number, from = 0): boolean {
  return (bits[from + (place >>> 5)]! & (1 << (place & 31))) !== 0;
}

/** Sets the bit of a visit; whether it was not set before. */
export function setBit(bits: Uint32Array, place: number): boolean {
  if (hasBit(bits, place)) return false;
  bits[place >>> 5]! |= 1 << (place & 31);
  return true;
}

/** Bytes of columns held at once; more levels than fit are read in several passes. */
const COLUMN_BUDGET = 96 * 2 ** 20;

/**
 * Replays one clip under every setting of a grid, exactly, and each of some parts of it by itself; the clip's own counts
 * come first. Each combination of level, areas and persistence is turned into runs of active frames once; each cooldown
 * then costs its triggers, not its frames.
 */
export async function sweepClip(
  clip: SweepClip,
  grid: Grid,
  camera: SweepCamera,
  parts: readonly SweepPart[] = [],
): Promise<[whole: SweepCounts, ...parts: SweepCounts[]]> {
  const all = [{ ...clip, from: 0 }, ...parts].map((part) => ({
    ...part,
    tally: new Tally(part),
    counts: new SweepCounts(grid.size, part.truth),
  }));
  const byLevel = groupByLevel(grid, camera);
  const limitsChange = (group: { mostChanged: number }) => group.mostChanged < camera.framePixels;
  const needsChanged = camera.area === 'region' && [...byLevel.values()].flat().some(limitsChange);
  const bytes = clip.times.length * 4 * (needsChanged ? 2 : 1);
  const atOnce = Math.max(1, Math.floor(COLUMN_BUDGET / Math.max(1, bytes)));
  const levels = [...byLevel.keys()].sort((a, b) => a - b);
  const runs = roomForRuns(clip.times.length);

  for (let i = 0; i < levels.length; i += atOnce) {
    const batch = levels.slice(i, i + atOnce);
    const both = needsChanged ? await clip.bothColumns(batch) : null;
    const areas = both ? both[camera.area] : await clip.columns(batch, camera.area);
    const changes = both ? both.changed : areas;
    for (const level of batch) {
      for (const { from, times, tally, counts } of all) {
        const area = (areas.get(level) as Uint32Array).subarray(from, from + times.length);
        const changed = (changes.get(level) as Uint32Array).subarray(from, from + times.length);
        for (const group of byLevel.get(level) ?? []) {
          findRuns(area, limitsChange(group) ? changed : null, group.minimumArea, group.mostChanged, runs);
          for (const { persistence, busy, settings } of group.ways) {
            tally.begin();
            march(runs, times, persistence, busy, tally.add);
            for (const setting of settings) counts.set(setting, tally, tally.visitBits);
          }
        }
      }
    }
  }
  const [whole, ...rest] = all.map(({ counts }) => counts);
  return [whole as SweepCounts, ...rest];
}

/** Settings that share their runs of active frames. */
interface Group {
  minimumArea: number;
  mostChanged: number;
  ways: { persistence: number; busy: number; settings: number[] }[];
}

function groupByLevel(grid: Grid, camera: SweepCamera): Map<number, Group[]> {
  const levels = new Map<number, Map<string, Group>>();
  const ways = new Map<string, { persistence: number; busy: number; settings: number[] }>();
  for (let setting = 0; setting < grid.size; setting++) {
    const s: Settings = grid.settingsAt(setting);
    const level = camera.levelOf(s.threshold);
    const busy = camera.busyOf(s.cooldown);
    const groups = levels.get(level) ?? new Map<string, Group>();
    levels.set(level, groups);
    const areaKey = `${s.minimumArea} ${s.mostChanged}`;
    const group = groups.get(areaKey) ?? { minimumArea: s.minimumArea, mostChanged: s.mostChanged, ways: [] };
    groups.set(areaKey, group);
    const wayKey = `${level} ${areaKey} ${s.persistence} ${busy}`;
    const way = ways.get(wayKey);
    if (way) {
      way.settings.push(setting);
      continue;
    }
    const fresh = { persistence: s.persistence, busy, settings: [setting] };
    ways.set(wayKey, fresh);
    group.ways.push(fresh);
  }
  return new Map([...levels].map(([level, groups]) => [level, [...groups.values()]]));
}

/** Adds up verdicts of triggers by looking each frame's outcome up. */
class Tally {
  caught = 0;
  trueTriggers = 0;
  falseTriggers = 0;
  ignoredTriggers = 0;
  readonly visitBits: Uint32Array;

  constructor(private readonly part: Pick<SweepPart, 'truth' | 'outcomes'>) {
    this.visitBits = new Uint32Array(wordsFor(part.truth));
  }

  begin(): void {
    this.caught = 0;
    this.trueTriggers = 0;
    this.falseTriggers = 0;
    this.ignoredTriggers = 0;
    this.visitBits.fill(0);
  }

  readonly add = (frame: number): void => {
    const { verdict, visitStart, visitList } = this.part.outcomes;
    const outcome = verdict[frame];
    if (outcome === TRUE) this.trueTriggers++;
    else if (outcome === IGNORED) this.ignoredTriggers++;
    else this.falseTriggers++;
    const end = visitStart[frame + 1]!;
    for (let i = visitStart[frame]!; i < end; i++) {
      if (setBit(this.visitBits, visitList[i]!)) this.caught++;
    }
  };
}
