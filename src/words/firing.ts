import type { Settings } from '../camera/settings.js';
import type { Score } from '../score/score.js';
import { mostAnHour } from './ratios.js';
import { figure } from './wording.js';

/** Of as often as the cooldown lets it fire, from which on it fires as often as it can: what fires it hardly ever stops. */
const AT_CEILING = 0.9;
/** Of the visits caught on the recording itself, under which few are caught. */
const FEW = 0.75;

/** How some settings did in one kind or strength of weather. */
export interface Fared {
  /** What the weather is called: wind, Beaufort 6. */
  weather: string;
  settings: Settings;
  recall: number | null;
  falsePerHour: number | null;
}

/** Whether so many false triggers an hour are as many as the cooldown lets be, so that more cannot show. */
export function isAtCeiling(settings: Pick<Settings, 'cooldown'>, falsePerHour: number | null): boolean {
  return falsePerHour !== null && falsePerHour >= AT_CEILING * mostAnHour(settings);
}

/** Where it fires as often as its cooldown lets it: a sentence, or none. */
export function ceilingText(fared: readonly Fared[]): string[] {
  const at = fared.filter(({ settings, falsePerHour }) => isAtCeiling(settings, falsePerHour));
  const cooldowns = [...new Set(at.map(({ settings }) => settings.cooldown))];
  if (cooldowns.length === 0) return [];
  const most = cooldowns.map(
    (cooldown) => `${Math.round(mostAnHour({ cooldown }))} an hour at ${cooldown} s`,
  );
  return [
    `${names(at)}: it fires as often as its cooldown lets it (about ${most.join(', ')}), so more false triggers than that cannot show.`,
  ];
}

/**
 * Where moving weather leaves it silent and it misses what it caught before: so much of the picture changes that mostChanged
 * holds it back. Low light, which silences it in another way, is not to be asked about.
 * @param own the share of visits that the same settings catch on the recording itself
 */
export function blindText(fared: readonly Fared[], own: number | null): string[] {
  const blind = fared.filter((one) => isBlind(one, own));
  const limits = [...new Set(blind.map(({ settings }) => settings.mostChanged))];
  if (limits.length === 0) return [];
  return [
    `${names(blind)}: no false triggers, but few visits either: most likely more of the picture moves than mostChanged ${limits.join(', ')} allows, and the camera is blinded by it.`,
  ];
}

function isBlind({ recall, falsePerHour }: Fared, own: number | null): boolean {
  return falsePerHour === 0 && recall !== null && own !== null && recall < FEW * own;
}

/** The same at one strength of one kind of weather, and how often it would fire falsely if mostChanged held nothing back. */
export interface FaredAt extends Fared {
  condition: string;
  strength: number;
  score: Pick<Score, 'falseTriggers'>;
  unheldPerHour?: number | null;
}

/**
 * Why more of some weather gives fewer false triggers than less of it: a sentence for each strength where it does, but for those
 * of which it was said that they blind it.
 */
export function fewerText(fared: readonly FaredAt[], own: number | null): string[] {
  return fared.flatMap((one) => {
    const often = one.falsePerHour;
    if (often === null || isBlind(one, own)) return [];
    const [most] = fared
      .filter(({ condition, strength }) => condition === one.condition && strength < one.strength)
      .sort((a, b) => (b.falsePerHour ?? 0) - (a.falsePerHour ?? 0));
    const less = most?.falsePerHour ?? 0;
    if (!most || less <= often) return [];
    const unheld = one.unheldPerHour ?? often;
    const why =
      unheld - often >= (less - often) / 2
        ? `for more of the picture changes than mostChanged ${one.settings.mostChanged} lets through (with that dial all the way up ${figure(unheld)} an hour)`
        : `${one.score.falseTriggers} counted against ${most.score.falseTriggers} on the sample: it may be chance`;
    return [`${one.weather}: fewer false triggers than at ${most.weather}, ${why}.`];
  });
}

function names(fared: readonly Fared[]): string {
  return fared.map(({ weather }) => weather).join(', ');
}
