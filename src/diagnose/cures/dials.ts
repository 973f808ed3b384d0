import { busyFor } from '../../camera/timing.js';
import { isActive, levelOf } from '../../engine/triggers.js';
import type { ReadingOptions } from '../../measure/evidence.js';
import { firstAt } from '../../sweep/march.js';
import type { SweepPart } from '../../sweep/sweep.js';
import { replayTurned } from '../missed/direct.js';
import { type Turn, turnsAround } from '../missed/turns.js';
import type { ReplayedClip } from '../replayed-clip.js';
import { addChanges, type Change, changeBetween, type Effect, effectOf, effectOn } from './effect.js';
import type { Halved } from './halves.js';
import type { Proof } from './proof.js';

/** One labelled clip with its halves. */
export interface Labelled {
  replayed: ReplayedClip;
  halved: Halved;
}

/** What some settings do on a clip's footage and on each of its halves. */
export type EffectOn = (part: SweepPart) => Effect;

/** Every turn around the settings, measured. */
export async function measureTurns(
  clips: readonly Labelled[],
  options: ReadingOptions,
): Promise<{ turn: Turn; proof: Proof }[]> {
  const { camera, settings } = (clips[0] as Labelled).replayed;
  const turns = turnsAround(camera, settings);
  const now: EffectOn[] = [];
  const then: EffectOn[][] = turns.map(() => []);
  for (const { replayed } of clips) {
    const effects = replayed.evidence
      ? await fromEvidence(replayed, turns)
      : await fromReplay(replayed, options);
    now.push(await effectNow(replayed));
    effects.forEach((effect, i) => {
      then[i]?.push(effect);
    });
  }
  return turns.map((turn, i) => ({ turn, proof: proofOf(clips, now, then[i] as EffectOn[]) }));
}

/** What a change of settings does on all the footage, on the half to find cures on, and on the half to prove them on. */
export function proofOf(
  clips: readonly Labelled[],
  now: readonly EffectOn[],
  then: readonly EffectOn[],
): Proof {
  const over = (which: keyof Halved): Change =>
    addChanges(
      clips.flatMap(({ halved }, c) => {
        const part = halved[which];
        return part ? [changeBetween((now[c] as EffectOn)(part), (then[c] as EffectOn)(part))] : [];
      }),
    );
  return { whole: over('whole'), finding: over('finding'), proving: over('proving') };
}

/**
 * What the settings do as they are. Each half is replayed by itself from an idle camera; where the reference depends on
 * the triggers, it has those of its time among the whole clip's.
 */
export async function effectNow(replayed: ReplayedClip): Promise<EffectOn> {
  if (!replayed.evidence) return amongTriggers(replayed, replayed.judged.triggers);
  const [effect] = await fromEvidence(replayed, [{ settings: replayed.settings }]);
  return effect as EffectOn;
}

async function fromEvidence(
  replayed: ReplayedClip,
  turns: readonly Pick<Turn, 'settings'>[],
): Promise<EffectOn[]> {
  const levels = [...new Set(turns.map(({ settings }) => levelOf(settings.threshold)))];
  const both = await replayed.evidence!.bothColumns(levels);
  const areas = both[replayed.camera.area];
  const changes = both.changed;
  return turns.map(({ settings }) => {
    const { threshold, minimumArea, mostChanged, persistence, cooldown } = settings;
    const area = areas.get(levelOf(threshold)) as Uint32Array;
    const changed = changes.get(levelOf(threshold)) as Uint32Array;
    const active = (k: number) => isActive(area[k]!, changed[k]!, minimumArea, mostChanged);
    return (part) => effectOn(part, active, persistence, busyFor(replayed.camera, cooldown));
  });
}

async function fromReplay(replayed: ReplayedClip, options: ReadingOptions): Promise<EffectOn[]> {
  const { judged } = await replayTurned(replayed, options);
  return judged.map(({ triggers }) => amongTriggers(replayed, triggers));
}

function amongTriggers(replayed: ReplayedClip, triggers: readonly { time: number }[]): EffectOn {
  return (part) => {
    const places = triggers.map(({ time }) => firstAt(replayed.times, time, 0) - part.from);
    return effectOf(
      part,
      places.filter((k) => k >= 0 && k < part.times.length),
    );
  };
}
