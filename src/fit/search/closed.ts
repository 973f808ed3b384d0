import { directReplay } from '../../camera/direct-replay.js';
import type { Settings } from '../../camera/settings.js';
import type { Wanted } from '../fired/wanted.js';
import { type Agreement, agreementOf, exactCloseness } from '../score/agreement.js';
import type { Values } from '../score/scores.js';
import type { Look } from './look.js';
import { cameraOf } from './looking.js';
import type { Course, Tried } from './tried.js';

/** Values of a camera whose reference depends on its own triggers, with what it then fires. */
export interface Closed {
  values: Values;
  predicted: number[];
  agreement: Agreement;
  /** As in Scores. */
  close: number;
}

/** Replays that go side by side: each takes as long as measuring evidence. */
const MOST = 10;

/** Settings of a camera that looks so. */
export function settingsOf(
  { width, height }: Look,
  { level, area, persistence, cooldown }: Values,
): Settings {
  return { threshold: level, minimumArea: area, mostChanged: width * height, persistence, cooldown };
}

/**
 * What a camera whose reference depends on its triggers really fires, under some values: following it by the told times says
 * which values may do, not what comes of them once one trigger is otherwise.
 * @param values at most ten are replayed
 */
export async function closedLoop(
  { looking }: Pick<Course, 'looking'>,
  { look }: Pick<Tried, 'look'>,
  values: readonly Values[],
  wanted: Wanted,
  onFrame: () => void = () => undefined,
): Promise<Closed[]> {
  const few = values.slice(0, MOST);
  const replays = few.map(({ kind, ...rest }) => {
    const camera = { ...cameraOf(look, looking.rate), area: kind };
    return directReplay(camera, settingsOf(look, { kind, ...rest }), looking.maskAt(camera));
  });
  const fired: number[][] = few.map(() => []);
  const { times } = looking;
  let k = 0;
  for await (const y of looking.framesAt(look).from(0)) {
    const time = times[k++]!;
    replays.forEach((replay, i) => {
      if (replay.step(y, time)) fired[i]!.push(time);
    });
    onFrame();
  }
  return few.map((one, i) => {
    const predicted = fired[i]!;
    return {
      values: one,
      predicted,
      agreement: agreementOf(wanted.fired, predicted, wanted.tolerance),
      close: exactCloseness(wanted.fired, predicted, predicted.length, wanted.tolerance),
    };
  });
}

/** Values around some, each along one axis, as far as they differ from each other and from those that were tried. */
export function valuesAround(
  values: Values,
  cooldowns: readonly number[],
  tried: readonly Values[],
): Values[] {
  const { level, area } = values;
  const near = cooldowns.filter((cooldown) => cooldown !== values.cooldown).slice(-3);
  const scaled = (x: number, by: number) =>
    by > 1 ? Math.max(x + 1, Math.round(x * by)) : Math.max(1, Math.min(x - 1, Math.round(x * by)));
  const around: Values[] = [
    values,
    ...near.map((cooldown) => ({ ...values, cooldown })),
    { ...values, area: scaled(area, 1.2) },
    { ...values, area: scaled(area, 1 / 1.2) },
    { ...values, level: scaled(level, 1.1) },
    { ...values, level: scaled(level, 1 / 1.1) },
    { ...values, level: scaled(level, 1.1), area: scaled(area, 1 / 1.2) },
    { ...values, level: scaled(level, 1 / 1.1), area: scaled(area, 1.2) },
  ];
  const known = new Set(tried.map(keyOf));
  return around.filter((one) => {
    const isNew = !known.has(keyOf(one));
    known.add(keyOf(one));
    return isNew;
  });
}

function keyOf({ kind, level, area, persistence, cooldown }: Values): string {
  return [kind, level, area, persistence, cooldown].join(' ');
}
