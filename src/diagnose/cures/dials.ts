import { busyFor } from '../../camera/timing.js';
import { isActive, levelOf } from '../../engine/triggers.js';
import type { ReadingOptions } from '../../measure/evidence.js';
import { firstAt } from '../../sweep/march.js';
import type { SweepPart } from '../../sweep/sweep.js';
import type { Case } from '../case.js';
import { replayTurned } from '../missed/direct.js';
import { type Turn, turnsAround } from '../missed/turns.js';
import { addChanges, type Change, changeBetween, type Effect, effectOf, effectOn } from './effect.js';
import type { Halved } from './halves.js';
import type { Proof } from './proof.js';

/** One labelled clip with its halves. */
export interface Labelled {
  a: Case;
  halved: Halved;
}

/** What some settings do on a clip's footage and on each of its halves. */
export type EffectOn = (part: SweepPart) => Effect;

/** Every turn around the settings, measured. */
export async function measureTurns(
  clips: readonly Labelled[],
  options: ReadingOptions,
): Promise<{ turn: Turn; proof: Proof }[]> {
  const { camera, settings } = (clips[0] as Labelled).a;
  const turns = turnsAround(camera, settings);
  const now: EffectOn[] = [];
  const then: EffectOn[][] = turns.map(() => []);
  for (const { a } of clips) {
    const effects = a.evidence ? await fromEvidence(a, turns) : await fromReplay(a, options);
    now.push(await effectNow(a));
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
export async function effectNow(a: Case): Promise<EffectOn> {
  if (!a.evidence) return amongTriggers(a, a.judged.triggers);
  const [effect] = await fromEvidence(a, [{ settings: a.settings }]);
  return effect as EffectOn;
}

async function fromEvidence(a: Case, turns: readonly Pick<Turn, 'settings'>[]): Promise<EffectOn[]> {
  const levels = [...new Set(turns.map(({ settings }) => levelOf(settings.threshold)))];
  const both = await a.evidence!.bothColumns(levels);
  const areas = both[a.camera.area];
  const changes = both.changed;
  return turns.map(({ settings }) => {
    const { threshold, minimumArea, mostChanged, persistence, cooldown } = settings;
    const area = areas.get(levelOf(threshold)) as Uint32Array;
    const changed = changes.get(levelOf(threshold)) as Uint32Array;
    const active = (k: number) => isActive(area[k]!, changed[k]!, minimumArea, mostChanged);
    return (part) => effectOn(part, active, persistence, busyFor(a.camera, cooldown));
  });
}

async function fromReplay(a: Case, options: ReadingOptions): Promise<EffectOn[]> {
  const { judged } = await replayTurned(a, options);
  return judged.map(({ triggers }) => amongTriggers(a, triggers));
}

function amongTriggers(a: Case, triggers: readonly { time: number }[]): EffectOn {
  return (part) => {
    const places = triggers.map(({ time }) => firstAt(a.times, time, 0) - part.from);
    return effectOf(
      part,
      places.filter((k) => k >= 0 && k < part.times.length),
    );
  };
}
