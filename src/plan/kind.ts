import { type Condition, DARK_BELOW, WET_FROM, WINDY_FROM } from '../weather/conditions.js';
import type { Conditions } from '../weather/setup.js';

/** How strong the wind is: none that counts, or from and to which Beaufort number. */
interface Step {
  name: string;
  from: number;
  /** What is simulated for it: the strong end, so that nothing is told too fair. */
  tried: number;
}

const WIND: readonly Step[] = [
  { name: '', from: 0, tried: 0 },
  { name: 'Beaufort 4 to 5', from: WINDY_FROM, tried: 5 },
  { name: 'Beaufort 6 to 7', from: 6, tried: 7 },
  { name: 'Beaufort 8 or more', from: 8, tried: 9 },
];
/** Where WMO parts light, moderate and heavy rain, mm/h; what is tried of the first two is what tune tries. */
const RAIN: readonly Step[] = [
  { name: '', from: 0, tried: 0 },
  { name: 'light rain', from: WET_FROM, tried: 2 },
  { name: 'moderate rain', from: 2.5, tried: 8 },
  { name: 'heavy rain', from: 10, tried: 25 },
];

/** What light an hour has for the camera. */
export type Light = 'bright' | 'dim' | 'too dark' | 'unknown';

/** Hours that are alike as far as can be told apart: by steps of wind and rain, and by light. */
export interface Kind {
  /** Places in the steps of wind and rain. */
  wind: number;
  rain: number;
  light: Light;
}

function stepOf(value: number, steps: readonly Step[]): number {
  return steps.reduce((last, { from }, i) => (value >= from ? i : last), 0);
}

/**
 * @param wind Beaufort number, not rounded: wind counts from 4 on, as the conditions of a clip do
 * @param rain mm/h
 */
export function kindOf(wind: number, rain: number, light: Light): Kind {
  return { wind: stepOf(wind, WIND), rain: stepOf(rain, RAIN), light };
}

/** Below which light it counts as too dark, as far as that is known; lux. */
export interface Darkness {
  /** The darkest light of use; null: not known. */
  limit: number | null;
  /** No darker light was tried or can be told of: below it nothing is known. */
  known: number;
}

/** Lux that nothing is told of below where the limit of use is not known. */
export const DIM_UNTIL = 5;

/** @param lux null where place or sky are not known: then it is taken as bright */
export function lightOf(lux: number | null, { limit, known }: Darkness): Light {
  if (lux === null) return 'bright';
  if (limit !== null && lux < limit) return 'too dark';
  if (lux >= DARK_BELOW) return 'bright';
  return lux < known ? 'unknown' : 'dim';
}

/** A name of its own for each kind. */
export function keyOfKind({ wind, rain, light }: Kind): string {
  return `${wind} ${rain} ${light}`;
}

/** The contract's conditions of a kind. */
export function conditionsOfKind({ wind, rain, light }: Kind): Condition[] {
  const found: Condition[] = [];
  if (wind > 0) found.push('wind');
  if (rain > 0) found.push('rain');
  if (light !== 'bright') found.push('low light');
  return found.length > 0 ? found : ['calm'];
}

/** In words: calm; wind, Beaufort 4 to 5; light rain at dusk. */
export function kindText({ wind, rain, light }: Kind): string {
  const parts = [
    ...(wind > 0 ? [`wind, ${WIND[wind]!.name}`] : []),
    ...(rain > 0 ? [RAIN[rain]!.name] : []),
    ...(light === 'bright' ? [] : [light === 'too dark' ? 'too dark' : 'low light']),
  ];
  return parts.length > 0 ? parts.join(', ') : 'calm';
}

/** Lux that dim hours are told by. */
const DIM = 20;

/**
 * What is put onto a clip to stand for a kind: nothing that the clip has already.
 * @param own what the clip was recorded in; what is not said counts as calm, dry and bright
 * @returns null where the clip has more wind or rain, or less light, than the kind
 */
export function weatherFor(kind: Kind, own: Conditions, { limit }: Darkness): Conditions | null {
  const mine = kindOf(
    own.wind ?? 0,
    own.rain ?? 0,
    (own.light ?? Number.POSITIVE_INFINITY) < DARK_BELOW ? 'dim' : 'bright',
  );
  if (mine.wind > kind.wind || mine.rain > kind.rain || (mine.light === 'dim' && kind.light === 'bright'))
    return null;
  const lux = limit !== null && limit >= DIM ? Math.sqrt(limit * DARK_BELOW) : DIM;
  const to: Conditions = {
    ...(kind.wind > mine.wind && { wind: WIND[kind.wind]!.tried }),
    ...(kind.rain > mine.rain && { rain: RAIN[kind.rain]!.tried }),
    ...(kind.light === 'dim' && mine.light === 'bright' && { light: lux }),
  };
  return to;
}
