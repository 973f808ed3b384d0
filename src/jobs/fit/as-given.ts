import type { Camera } from '../../camera/description.js';
import { dialFor, type EngineValue, positionOf, positions, valueAt } from '../../camera/dials.js';
import type { ResolvedSettings, Settings } from '../../camera/settings.js';
import { busyFor } from '../../camera/timing.js';
import type { Clip } from '../../clip/open.js';
import { levelOf } from '../../engine/triggers.js';
import { type Clock, setRight } from '../../fit/fired/clock.js';
import { offsetsOf, type Told } from '../../fit/fired/told.js';
import { wantedBy } from '../../fit/fired/wanted.js';
import { type Agreement, agreementOf, lateness } from '../../fit/score/agreement.js';
import { middleOfBest, scoreAll } from '../../fit/score/scores.js';
import type { Axes } from '../../fit/search/axes.js';
import { busyBy } from '../../fit/search/busy.js';
import { OffsetFinder } from '../../fit/search/offsets.js';
import type { Searched } from '../../fit/search/tried.js';
import type { ReadingOptions } from '../../measure/evidence.js';
import { replayClip } from '../../measure/replay.js';

/** How a description does as somebody wrote it: nothing of it is sought but, where no settings were given, how its dials stand. */
export interface AsGiven {
  settings: Settings;
  /** Positions of its dials that give them, by name, as far as there are such. */
  controls: Record<string, number>;
  /** Whether the settings were given too, and not the dials turned to where they explain the fired times best. */
  isWhole: boolean;
  agreement: Agreement;
  /** Told time less time on the clip, seconds, by which it agrees best. */
  offset: number;
}

/** Positions of a dial that are tried at most, evenly spread. */
const MOST_POSITIONS = 32;
/** How often the clock is set right by what is fired, and the dials are turned anew by it. */
const ROUNDS = 2;

/**
 * Holds a description against the fired times as it stands.
 * @param settings null: its dials are turned
 * @param clock by which the times lie on the clip, as far as that is known
 * @returns null where it has no dials to turn, or fires nothing at any of their positions
 */
export async function asGiven(
  clip: Clip,
  told: Told,
  camera: Camera,
  settings: ResolvedSettings | null,
  searched: Pick<Searched, 'looking' | 'tolerance'>,
  clock: Clock,
  options: ReadingOptions,
): Promise<AsGiven | null> {
  const { tolerance } = searched;
  let best: AsGiven | null = null;
  let at = clock;
  for (let round = 0; round < ROUNDS; round++) {
    const set: ResolvedSettings | null = settings ?? (await dialsTurned(clip, told, camera, searched, at));
    if (!set) break;
    const predicted = await replayClip(clip, camera, set, options);
    at = placedBy(predicted, told, tolerance.most, clip.seconds);
    const { fired } = wantedBy(told, at, tolerance, [0, clip.seconds]);
    const agreement = agreementOf(fired, predicted, tolerance);
    if (best && agreement.f1 <= best.agreement.f1) break;
    const { threshold, minimumArea, mostChanged, persistence, cooldown } = set;
    best = {
      settings: { threshold, minimumArea, mostChanged, persistence, cooldown },
      controls: positionsFor(camera, set),
      isWhole: settings !== null,
      agreement,
      offset: at.offset,
    };
    if (settings) break;
  }
  return best;
}

/** The clock by which the told times lie nearest to predicted ones. */
function placedBy(predicted: readonly number[], told: Told, most: number, seconds: number): Clock {
  const { lowest, highest } = offsetsOf(told, seconds);
  const finder = new OffsetFinder(Float64Array.from(told.times), lowest, highest, most);
  const found = { offset: finder.best(predicted, predicted.length).offset, drift: 0 };
  const { fired } = wantedBy(told, found, { most, free: 0, span: null }, [0, seconds]);
  return setRight(found, lateness(fired, predicted, { most }));
}

/** The positions of its dials that explain the times best; their mostChanged is the highest, for it is not sought. */
async function dialsTurned(
  clip: Clip,
  told: Told,
  camera: Camera,
  { looking, tolerance }: Pick<Searched, 'looking' | 'tolerance'>,
  clock: Clock,
): Promise<ResolvedSettings | null> {
  const [thresholds, areas] = [valuesOf(camera, 'threshold'), valuesOf(camera, 'minimumArea')];
  if (thresholds.length === 0 || areas.length === 0) return null;
  const cooldowns = valuesOf(camera, 'cooldown', 0);
  const { width, height, smooth } = camera.analysis;
  const { whileBusy, ...reference } = camera.reference;
  const wanted = wantedBy(told, clock, tolerance, [0, clip.seconds]);
  const levels = [...new Set(thresholds.map(levelOf))].sort((a, b) => a - b);
  const byBusy = cooldowns.map((cooldown) => busyFor(camera, cooldown));
  const busy =
    whileBusy === 'continues'
      ? null
      : busyBy(looking.times, wanted.fired, whileBusy, byBusy[byBusy.length >> 1]!);
  const look = { width, height, smooth, reference, whileBusy };
  const [source] = await looking.at([{ look, busy }], levels[0]!);
  const axes: Axes = {
    kinds: [camera.area],
    levels,
    areas,
    persistences: valuesOf(camera, 'persistence', 1),
    cooldowns: [...new Set(byBusy)].sort((a, b) => a - b),
  };
  const scores = scoreAll(await source!.bothColumns(levels), looking.times, axes, wanted);
  const best = middleOfBest(scores, wanted.fired.length);
  if (!best) return null;
  const { level, area, persistence, cooldown } = best.values;
  return {
    threshold: thresholds.find((threshold) => levelOf(threshold) === level)!,
    minimumArea: area,
    mostChanged: valuesOf(camera, 'mostChanged', width * height).at(-1)!,
    persistence,
    cooldown: cooldowns.find((one) => busyFor(camera, one) === cooldown)!,
    warnings: [],
  };
}

/** What a dial gives, rising, of many positions a few; where there is no such dial the usual value, if there is one. */
function valuesOf({ controls }: Camera, value: EngineValue, usual?: number): number[] {
  const dial = dialFor(controls, value)?.[1];
  if (!dial) return usual === undefined ? [] : [usual];
  const all = positions(dial)
    .map((position) => valueAt(dial, position))
    .sort((a, b) => a - b);
  const step = Math.max(1, (all.length - 1) / (MOST_POSITIONS - 1));
  const few = Array.from(
    { length: Math.min(all.length, MOST_POSITIONS) },
    (_, i) => all[Math.round(i * step)]!,
  );
  return [...new Set(few)];
}

function positionsFor({ controls }: Camera, settings: Settings): Record<string, number> {
  const at = Object.entries(controls).flatMap(([name, dial]): [string, number][] => {
    const position = positionOf(dial, settings[dial.sets]);
    return position === undefined ? [] : [[name, position]];
  });
  return Object.fromEntries(at);
}
