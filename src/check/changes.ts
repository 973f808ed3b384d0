import { quoted } from '../base/text.js';
import { settingChanges } from '../camera/changes.js';
import type { Controls } from '../camera/dials.js';
import type { CameraPart, FiredBy, Replayed, Results } from './results.js';

/**
 * What changed between two results besides the results, a line for each part, value by value: settings as the camera's
 * dials stand, "settings: sensitivity 4, was 7", and as engine values where no position gives them.
 * @param before accepted results, which know no dials, or what another camera gave
 */
export function changesBetween(
  before: Results & Partial<Pick<Replayed, 'controls'>>,
  now: Pick<Replayed, 'engine' | 'camera' | 'settings' | 'controls' | 'firedBy'>,
): string[] {
  const engine = `what it computes has another meaning (version ${now.engine} of it, was version ${before.engine})`;
  return [
    ...(before.engine === now.engine ? [] : [`engine: ${engine}`]),
    ...(before.camera.key === now.camera.key
      ? []
      : [line('camera', cameraChanges(before.camera, now.camera))]),
    ...(before.settings.key === now.settings.key
      ? []
      : [line('settings', settingsChanges(before.settings, now.settings, dialsOfBoth(before, now)))]),
    ...(same(before.firedBy, now.firedBy)
      ? []
      : [`fired by: ${firedByText(now.firedBy)}, was ${firedByText(before.firedBy)}`]),
  ];
}

function firedByText(by: FiredBy | undefined): string {
  if (!by) return "the camera's description";
  return `the command ${quoted(by.command)}${by.fullSize ? " on frames of the clip's own size" : ''}`;
}

function line(what: string, changes: readonly string[]): string {
  return `${what}: ${changes.join('; ') || 'changed'}`;
}

function settingsChanges(
  before: Results['settings'],
  now: Results['settings'],
  dials: Controls,
): readonly string[] {
  const values = settingChanges(before, now, dials).map(({ name, was, is }) => `${name} ${is}, was ${was}`);
  return same(before.mask, now.mask) ? values : [...values, 'another mask'];
}

/** The dials by which both can be told: a position of one camera's dial means nothing on another's. */
function dialsOfBoth(
  { controls: others }: Partial<Pick<Replayed, 'controls'>>,
  { controls }: Pick<Replayed, 'controls'>,
): Controls {
  if (!others) return controls;
  return Object.fromEntries(Object.entries(controls).filter(([name, dial]) => same(dial, others[name])));
}

function cameraChanges(before: CameraPart, now: CameraPart): string[] {
  const [was, is] = [valuesOf(before), valuesOf(now)];
  return [...new Set([...was.keys(), ...is.keys()])]
    .filter((path) => !same(was.get(path), is.get(path)))
    .map((path) => `${path} ${is.get(path) ?? 'none'}, was ${was.get(path) ?? 'none'}`);
}

/** What results follow from, by its path. */
function valuesOf({ key: _, name: __, ...part }: CameraPart): Map<string, unknown> {
  const found = new Map<string, unknown>();
  const walk = (value: unknown, path: readonly string[]) => {
    if (value === null || typeof value !== 'object') found.set(path.join('.'), value);
    else for (const [name, inner] of Object.entries(value)) walk(inner, [...path, name]);
  };
  walk(part, []);
  return found;
}

function same(a: unknown, b: unknown): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}
