import type { Camera } from '../camera/description.js';
import type { SiteResult } from '../jobs/tune.js';
import { poissonRate, type Rate, type Ratio, wilson } from '../score/intervals.js';
import { controlsOf } from './controls.js';

/** What the first of the sensible choices is called: the one that the dials show and all else is said of. */
export const FIRST = 'A';

/** One of the groups of settings to choose among where there is too little to tell. */
export interface SensibleChoice {
  /** A, B, C. */
  name: string;
  controls: Record<string, number>;
  recall: Ratio | null;
  falsePerHour: Rate | null;
}

/** The recommended settings, and where there are such, others along the front that catch more or fire falsely less; with their intervals. */
export function sensibleChoices({ front, recommended }: SiteResult, camera: Camera): SensibleChoice[] {
  const { score, controls } = recommended;
  const { visits, watchedHours } = score;
  const own = { recall: score.recall?.value ?? null, falsePerHour: score.falsePerHour?.value ?? null };
  const more = front.find(({ recall }) => (recall ?? 0) > (own.recall ?? 0));
  const fewer = front.filter((point) => (point.falsePerHour ?? 0) < (own.falsePerHour ?? 0));
  const half = (own.recall ?? 0) / 2;
  const near = fewer.reduce<(typeof front)[number] | undefined>(
    (a, b) => (a && Math.abs((a.recall ?? 0) - half) <= Math.abs((b.recall ?? 0) - half) ? a : b),
    undefined,
  );
  const others = [more, near].flatMap((point) =>
    point ? [{ ...point, controls: controlsOf(point.settings, camera) }] : [],
  );
  return [{ ...own, controls }, ...others].map((choice, i) => ({
    name: String.fromCharCode(FIRST.charCodeAt(0) + i),
    controls: choice.controls,
    recall: choice.recall === null ? null : wilson(Math.round(choice.recall * visits), visits),
    falsePerHour:
      choice.falsePerHour === null
        ? null
        : poissonRate(Math.round(choice.falsePerHour * watchedHours), watchedHours),
  }));
}
