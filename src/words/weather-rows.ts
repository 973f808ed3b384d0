import type { Camera } from '../camera/description.js';
import type { Settings } from '../camera/settings.js';
import type { SiteResult } from '../jobs/tune.js';
import { type Condition, conditionNames, DARK_BELOW, WINDY_FROM } from '../weather/conditions.js';
import { type DialShown, dialsShown } from './dials-shown.js';
import { hasSameDials } from './explain-weather.js';

/** The dials as they should stand in one kind of weather. */
export interface WeatherRow {
  weather: string;
  /** How to know it: from when on to turn the dials. */
  when: string;
  /** Where these positions come from, if there is something to be said. */
  note: string | null;
  dials: readonly (DialShown & { turned: boolean })[];
}

/** How to know each kind of weather without an instrument. */
const when: Record<Condition, string> = {
  calm: 'only leaves stir',
  wind: `from Beaufort ${WINDY_FROM}: small branches move`,
  rain: 'any that wets a path',
  'low light': `dusk: below ${DARK_BELOW} lux`,
};

/** What is recommended for all weather, then each kind of weather; only the first where no kind has dials other than that. */
export function rowsOf(site: Pick<SiteResult, 'recommended' | 'byCondition'>, camera: Camera): WeatherRow[] {
  const { recommended, byCondition } = site;
  const base = dialsShown(camera, recommended.settings);
  const rowFor = (settings: Settings | null) =>
    dialsShown(camera, settings ?? recommended.settings).map((dial, d) => ({
      ...dial,
      turned: settings !== null && dial.chosen !== base[d]!.chosen,
    }));
  const first = { weather: 'any weather', when: 'unless you change it', note: null };
  const all = { ...first, dials: base.map((dial) => ({ ...dial, turned: true })) };
  if (byCondition.every(({ choice }) => choice === null)) return [{ ...all, when: '' }];
  const kinds = conditionNames.map((condition): WeatherRow => {
    const found = byCondition.find((group) => group.condition === condition);
    const choice = found?.choice ?? null;
    const dials = rowFor(choice?.settings ?? null);
    return {
      weather: condition,
      when: when[condition],
      note: dials.every(({ turned }) => !turned)
        ? 'as in the top row'
        : found?.source === 'simulated'
          ? 'simulated'
          : null,
      dials,
    };
  });
  const isTurned = kinds.some(({ dials }) => dials.some(({ turned }) => turned));
  return isTurned ? [all, ...kinds] : [{ ...all, when: '' }];
}

/** The rows to set a camera by: each kind of weather only where changing the dials with it is worth it. */
export function rowsToSet(
  site: Pick<SiteResult, 'recommended' | 'byCondition' | 'weather'>,
  camera: Camera,
): WeatherRow[] {
  const { recommended, byCondition, weather } = site;
  return rowsOf({ recommended, byCondition: weather?.worthIt ? byCondition : [] }, camera);
}

/** Whether to change the dials with the weather, beside those rows. */
export function weatherAdvice({ weather, byCondition }: SiteResult): string {
  if (byCondition.every(({ choice }) => choice === null)) {
    return 'Leave them like this in all weather: no kind of it was recorded enough for settings of its own.';
  }
  if (hasSameDials(byCondition)) {
    return 'Leave them like this in all weather: the same dials are best in each kind of it that was recorded.';
  }
  if (weather?.worthIt) return 'Change the dark dials with the weather: on footage left out it was worth it.';
  return weather?.changing
    ? 'Leave them like this in all weather: on footage left out, changing with it was not shown to be worth it.'
    : 'Leave them like this in all weather: whether changing with it is worth it is too little to tell.';
}
