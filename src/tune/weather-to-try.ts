import type { Condition } from '../weather/conditions.js';
import { OVERCAST_DAYLIGHT } from '../weather/light.js';
import type { Conditions } from '../weather/setup.js';

/** One kind of weather at one strength, to be simulated where nobody recorded it. */
export interface WeatherToTry {
  condition: Condition;
  to: Conditions;
  /** Beaufort number, mm/h or lux. */
  strength: number;
  /** Sway of branches against what is assumed. */
  sway: number;
}

const wind = (strength: number, sway = 1): WeatherToTry => ({
  condition: 'wind',
  to: { wind: strength },
  strength,
  sway,
});
const rain = (strength: number): WeatherToTry => ({
  condition: 'rain',
  to: { rain: strength },
  strength,
  sway: 1,
});
const light = (strength: number): WeatherToTry => ({
  condition: 'low light',
  to: { light: strength },
  strength,
  sway: 1,
});

/** The sway of branches is the least certain of what is assumed, so half and twice as much is tried besides. */
const tried: Record<Condition, readonly WeatherToTry[]> = {
  calm: [],
  wind: [wind(4), wind(6), wind(5, 0.5), wind(5, 2)],
  rain: [rain(2), rain(8)],
  'low light': [light(20)],
};

/**
 * What is tried for kinds of weather that nobody recorded, on a clip recorded in the given conditions: only more wind and
 * rain than those, and less light. What is not said of them counts as calm, dry and bright.
 */
export function weatherToTry(
  missing: readonly Condition[],
  { wind: blows = 0, rain: falls = 0, light: shines = Number.POSITIVE_INFINITY }: Conditions = {},
): WeatherToTry[] {
  return missing
    .flatMap((condition) => tried[condition])
    .filter(({ to }) => (to.wind ?? 12) > blows && (to.rain ?? 999) > falls && (to.light ?? 0) < shines);
}

/** What clip.json says of where and in what a clip was recorded. */
interface Recorded {
  manifest: { site?: string | undefined; conditions?: Conditions | undefined };
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
