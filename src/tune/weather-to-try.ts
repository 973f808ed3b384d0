import {
  type AssumptionName,
  assumptionNames,
  assumptionOf,
  type Doubt,
  makes,
} from '../weather/assumptions.js';
import type { Condition } from '../weather/conditions.js';
import { OVERCAST_DAYLIGHT } from '../weather/light/light.js';
import { type RainPart, rainParts } from '../weather/rain/rain-part.js';
import type { Conditions } from '../weather/setup.js';

/** One kind of weather at one strength, to be simulated where nobody recorded it. */
export interface WeatherToTry {
  condition: Condition;
  to: Conditions;
  /** Beaufort number, mm/h or lux. */
  strength: number;
  /** An assumption taken otherwise than it is; left out: none. */
  doubt?: Doubt;
  /** Parts of the rain left out; left out: none. */
  without?: readonly RainPart[];
  /** Onto one frame again and again, to know what such weather fires by itself; left out: onto each. */
  still?: true;
}

const wind = (strength: number): WeatherToTry => ({ condition: 'wind', to: { wind: strength }, strength });
const rain = (strength: number): WeatherToTry => ({ condition: 'rain', to: { rain: strength }, strength });
const light = (strength: number): WeatherToTry => ({
  condition: 'low light',
  to: { light: strength },
  strength,
});

const tried: Record<Condition, readonly WeatherToTry[]> = {
  calm: [],
  wind: [wind(4), wind(6)],
  rain: [rain(2), rain(8)],
  'low light': [light(20)],
};

/** The sway of branches is the least certain of what is assumed, so it is doubted even where not all is. */
const ALWAYS_DOUBTED: readonly AssumptionName[] = ['sway'];
const HALF_AND_TWICE = [0.5, 2];

export interface HowFar {
  /** Every assumption of the tables by half and twice as much, and every part of the rain alone and left out. */
  doubts?: boolean;
  /** What the camera is like: assumptions about a rain cover need one. */
  scene?: { cover?: boolean | undefined } | undefined;
}

/**
 * What is tried for kinds of weather that nobody recorded, on a clip recorded in the given conditions: only more wind and
 * rain than those, and less light. What is not said of them counts as calm, dry and bright. Doubts are tried at the strongest.
 */
export function weatherToTry(
  missing: readonly Condition[],
  { wind: blows = 0, rain: falls = 0, light: shines = Number.POSITIVE_INFINITY }: Conditions = {},
  { doubts = false, scene = {} }: HowFar = {},
): WeatherToTry[] {
  const given = { cover: scene.cover === true };
  const doubted = (doubts ? assumptionNames : ALWAYS_DOUBTED).filter((name) => {
    const { needs } = assumptionOf(name);
    return needs === undefined || given[needs];
  });
  return missing
    .flatMap((condition) => {
      const strongest = tried[condition].at(-1);
      if (!strongest) return [];
      return [
        ...tried[condition],
        ...doubted
          .filter((assumption) => makes(assumption, condition))
          .flatMap((assumption) =>
            HALF_AND_TWICE.map((times) => ({ ...strongest, doubt: { assumption, times } })),
          ),
        ...(doubts && condition === 'rain' ? partsOf(strongest, given.cover) : []),
      ];
    })
    .filter(({ to }) => (to.wind ?? 12) > blows && (to.rain ?? 999) > falls && (to.light ?? 0) < shines);
}

/** None of the rain, then each part alone and all but that. */
function partsOf(strongest: WeatherToTry, cover: boolean): WeatherToTry[] {
  return [
    { ...strongest, without: rainParts },
    ...rainParts
      .filter((part) => part !== 'drops on the cover' || cover)
      .flatMap((part) => [
        { ...strongest, without: rainParts.filter((other) => other !== part) },
        { ...strongest, without: [part] },
      ]),
  ];
}

/** What clip.json says of where and in what a clip was recorded. */
interface Recorded {
  manifest: {
    site?: string | undefined;
    conditions?: Conditions | undefined;
    simulated?: unknown;
  };
}

/** The calmest clip of each site: the least wind, then the least rain, then the most light; what is not said counts as calm. */
export function calmestOfEachSite<C extends Recorded>(clips: readonly C[]): C[] {
  const bySite = new Map<string, C>();
  const of = ({ manifest: { conditions } }: C) => ({
    wind: conditions?.wind ?? 0,
    rain: conditions?.rain ?? 0,
    light: conditions?.light ?? OVERCAST_DAYLIGHT,
  });
  for (const clip of clips) {
    const site = clip.manifest.site ?? '';
    const other = bySite.get(site);
    const [a, b] = [of(clip), other && of(other)];
    if (!b || (a.wind - b.wind || a.rain - b.rain || b.light - a.light) < 0) bySite.set(site, clip);
  }
  return [...bySite.values()];
}

/** The windiest recorded clip of the same site in which it was said to blow more than in a given one: sway shows in both. */
export function windierThan<C extends Recorded>(calm: Recorded, clips: readonly C[]): C | undefined {
  const blows = ({ manifest }: Recorded) => manifest.conditions?.wind ?? 0;
  const of = clips.filter(
    (clip) =>
      !clip.manifest.simulated &&
      (clip.manifest.site ?? '') === (calm.manifest.site ?? '') &&
      blows(clip) > blows(calm),
  );
  return of.toSorted((a, b) => blows(b) - blows(a))[0];
}
