import type { Settings } from '../../camera/settings.js';
import type { Values } from '../score/scores.js';
import type { Look } from './look.js';

/** Settings of a camera that looks so. */
export function settingsOf(
  { width, height }: Look,
  { level, area, persistence, cooldown }: Values,
): Settings {
  return { threshold: level, minimumArea: area, mostChanged: width * height, persistence, cooldown };
}
