import { type Random, random } from '../../../src/base/random.js';
import type { CauseName } from '../../../src/diagnose/diagnosis.js';
import type { Taken } from '../../../src/diagnose/teach/teach.js';
import { outputs } from '../../../src/diagnose/triggers/model/network.js';

/** What a made network says: `sure` for one cause, the rest in even parts. */
export function says(cause: CauseName, sure: number): number[] {
  return outputs.map((name) => (name === cause ? sure : (1 - sure) / (outputs.length - 1)));
}

/** Triggers a minute apart, half of them by rain, half by wind. */
export function site(
  seed: string,
  count: number,
  { clips = 1, rainIsSaid }: { clips?: number; rainIsSaid: (r: Random) => number[] },
): Taken[] {
  const r = random(seed, 'site');
  return Array.from({ length: count }, (_, i) => {
    const told: CauseName = r() < 0.5 ? 'rain' : 'wind';
    const probabilities = told === 'rain' ? rainIsSaid(r) : says('wind', 0.7 + 0.25 * r());
    return { clip: i % clips, time: 60 * i, probabilities, told };
  });
}

/** A network that takes rain for insects here. */
export const takenForInsects = (r: Random) => says('insect', 0.6 + 0.3 * r());

/** A network whose probabilities are true: it is right as often as it says. */
export function calibrated(seed: string, count: number): Taken[] {
  const r = random(seed, 'calibrated');
  return Array.from({ length: count }, (_, i) => {
    const powers = outputs.map(() => r() ** 4);
    const all = powers.reduce((a, b) => a + b, 0);
    const probabilities = powers.map((p) => p / all);
    const at = r();
    const upTo = (c: number) => probabilities.slice(0, c + 1).reduce((a, b) => a + b, 0);
    const told = outputs.find((_, c) => at < upTo(c)) ?? 'wind';
    return { clip: 0, time: 60 * i, probabilities, told };
  });
}
