import type { TuneResult } from '../tune/tune.js';
import { clock, dialsText, figure, percentBetween, plural } from './wording.js';

/** Fewer visits than this in a simulated sample say little of any setting. */
const FEW_VISITS = 10;

/** What to do about the weather, in sentences; none where fewer than two kinds of it are known. */
export function explainWeather({ weather, byCondition, simulations }: TuneResult): string[] {
  if (!weather) return [];
  const { one, changing, worthIt, doubts } = weather;
  const simulated = byCondition.filter((c) => c.source === 'simulated').map((c) => c.condition);
  return [
    `To leave one group in place for all of it: ${dialsText(one.controls)}${one.score.recall ? `, which catches ${percentBetween(one.score.recall)} over all` : ''}.`,
    changing
      ? gain(changing, worthIt)
      : 'Whether changing them with the weather is worth it is too little to tell: that takes recordings of each kind that can be left out in turn.',
    ...(simulated.length > 0
      ? [
          `Simulated, not recorded: ${simulated.join(', ')}. The same visits count again at every strength, so their intervals are narrower than they should be; record such weather to be sure.`,
        ]
      : []),
    ...simulations.map(
      ({ clip, sample, visits, assumed }) =>
        `Put onto ${clip} from ${clock(sample.start)} to ${clock(sample.end)}, with ${plural(visits, 'visit')}${visits < FEW_VISITS ? ', too few to rest a choice on: take the advice as a hint' : ''}. Assumed: ${assumed[0] ?? 'nothing'}${assumed.length > 1 ? `; and ${assumed.length - 1} more, which --json lists` : ''}.`,
    ),
    ...doubts.map(({ sway, controls, flips }) =>
      flips
        ? `Were branches to sway ${times(sway)} as far as assumed, the advice for wind would be another: ${dialsText(controls)}.`
        : `Were branches to sway ${times(sway)} as far as assumed, the advice for wind would hold.`,
    ),
  ];
}

/** Beaufort 6, 8 mm/h, 20 lux. */
export function strengthName(condition: string, strength: number): string {
  if (condition === 'wind') return `Beaufort ${figure(strength)}`;
  return `${figure(strength)} ${condition === 'rain' ? 'mm/h' : 'lux'}`;
}

function gain({ value, low, high }: { value: number; low: number; high: number }, worthIt: boolean): string {
  const points = (x: number) => `${Math.round(100 * x)}`;
  const range = `${points(value)} points in a hundred (${points(low)} to ${points(high)}) to the visits caught`;
  const verdict = worthIt ? 'worth it' : 'too little to be worth it. Leave it alone';
  return `Changing them with the weather would add ${range}, tried on footage left out: ${verdict}.`;
}

function times(sway: number): string {
  return sway === 0.5 ? 'half' : sway === 2 ? 'twice' : `${figure(sway)} times`;
}
