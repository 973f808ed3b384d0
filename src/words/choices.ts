import type { Camera } from '../camera/description.js';
import type { SiteResult } from '../jobs/tune.js';
import { type Rate, type Ratio, wilson } from '../score/intervals.js';
import { controlsOf } from './controls.js';
import { byBouts, withinCooldown } from './ratios.js';

/** What the first of the sensible choices is called: the one that the dials show and all else is said of. */
export const FIRST = 'A';

/** What the settings chosen for a site are called: nothing is recommended where there is too little to tell. */
export function chosenName({ tells }: Pick<SiteResult, 'tells'>): string {
  return tells === 'too little' ? `choice ${FIRST}` : 'recommended';
}

/** One of the groups of settings to choose among where there is too little to tell. */
export interface SensibleChoice {
  /** A, B, C. */
  name: string;
  controls: Record<string, number>;
  recall: Ratio | null;
  falsePerHour: Pick<Rate, 'value' | 'low' | 'high'> | null;
}

/**
 * Why the first of the choices comes first though another catches more without firing falsely more often; null where none does: what
 * a single group of settings catches here is partly luck, so each is judged with its neighbours (src/tune/recommend.ts).
 */
export function whyFirst([first, ...others]: readonly SensibleChoice[]): string | null {
  const isBeaten = ({ recall, falsePerHour }: SensibleChoice) =>
    (recall?.value ?? 0) > (first?.recall?.value ?? 0) &&
    (falsePerHour?.value ?? 0) <= (first?.falsePerHour?.value ?? 0);
  const better = others.find(isBeaten);
  if (!better) return null;
  return `${better.name} did better than ${FIRST} on these clips, which may be luck: ${FIRST} comes first because it was judged together with the settings next to it, and those next to ${better.name} are not expected to do better elsewhere.`;
}

/** The recommended settings, and where there are such, others along the front that catch more or fire falsely less; with their intervals. */
export function sensibleChoices({ front, recommended }: SiteResult, camera: Camera): SensibleChoice[] {
  const { score, controls, settings } = recommended;
  const { visits } = score;
  const rate = byBouts(score, settings);
  const own = {
    recall: score.recall?.value ?? null,
    falsePerHour: rate?.value ?? null,
    byBouts: rate,
    settings,
  };
  // What a branch brought along is no reason to choose anything.
  const earned = (recall: number | null, byLuck: number | null) => (recall ?? 0) * visits - (byLuck ?? 0);
  const here = earned(own.recall, score.byLuck) + 1e-9;
  const more = front.find(({ recall, byLuck }) => earned(recall, byLuck) > here);
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
      choice.falsePerHour === null || !choice.byBouts
        ? null
        : withinCooldown(
            { value: choice.falsePerHour, low: choice.byBouts.low, high: choice.byBouts.high },
            choice.settings,
          ),
  }));
}
