import type { Settings } from '../camera/settings.js';

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
export function isAtCeiling({ cooldown }: Pick<Settings, 'cooldown'>, falsePerHour: number | null): boolean {
  return cooldown > 0 && falsePerHour !== null && falsePerHour >= (AT_CEILING * 3600) / cooldown;
}

/** Where it fires as often as its cooldown lets it: a sentence, or none. */
export function ceilingText(fared: readonly Fared[]): string[] {
  const at = fared.filter(({ settings, falsePerHour }) => isAtCeiling(settings, falsePerHour));
  const cooldowns = [...new Set(at.map(({ settings }) => settings.cooldown))];
  if (cooldowns.length === 0) return [];
  const most = cooldowns.map((cooldown) => `${Math.round(3600 / cooldown)} an hour at ${cooldown} s`);
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
  const blind = fared.filter(
    ({ recall, falsePerHour }) => falsePerHour === 0 && recall !== null && own !== null && recall < FEW * own,
  );
  const limits = [...new Set(blind.map(({ settings }) => settings.mostChanged))];
  if (limits.length === 0) return [];
  return [
    `${names(blind)}: no false triggers, but few visits either: most likely more of the picture moves than mostChanged ${limits.join(', ')} allows, and the camera is blinded by it.`,
  ];
}

function names(fared: readonly Fared[]): string {
  return fared.map(({ weather }) => weather).join(', ');
}
