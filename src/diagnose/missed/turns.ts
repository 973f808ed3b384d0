import type { Camera } from '../../camera/description.js';
import { dialFor, type EngineValue, engineValues, positions, valueAt } from '../../camera/dials.js';
import type { Settings } from '../../camera/settings.js';
import type { Cure } from '../diagnosis.js';
import { nearestPlace } from './nearest-grid.js';

/** Settings that differ from the present ones in one value. */
export interface Turn {
  kind: Exclude<Cure['kind'], 'mask'>;
  settings: Settings;
  /** Null for a value that no dial sets. */
  turn: Cure['turn'];
  notches: number;
}

/** Further frames in a row that are tried. */
const LONGER = [1, 2];
/** Shares of the frame that are tried as mostChanged where no dial sets it. */
const LARGEST_SHARES = [0.5, 0.25, 0.125, 0.0625];

/**
 * One notch on each dial either way, one or two frames more in a row, and every lower mostChanged. Where a value is
 * no position of its dial, notches are counted from the nearest one. Where no dial sets persistence or mostChanged,
 * plain values are tried.
 */
export function turnsAround(camera: Camera, settings: Settings): Turn[] {
  return engineValues.flatMap((value) => {
    const found = dialFor(camera.controls, value);
    return found ? dialTurns(found, settings) : plainTurns(camera, settings, value);
  });
}

function dialTurns([name, dial]: NonNullable<ReturnType<typeof dialFor>>, settings: Settings): Turn[] {
  const at = positions(dial);
  const values = at.map((p) => valueAt(dial, p));
  const here = nearestPlace(values, settings[dial.sets]);
  return values.flatMap((value, place): Turn[] => {
    const notches = Math.abs(place - here);
    const wanted =
      notches === 1 ||
      (notches > 1 && value < settings[dial.sets] && dial.sets === 'mostChanged') ||
      (notches === 2 && value > settings[dial.sets] && dial.sets === 'persistence');
    if (!wanted) return [];
    const turn = { dial: name, from: at[here]!, to: at[place]! };
    return [{ kind: kindOf(dial.sets), settings: { ...settings, [dial.sets]: value }, turn, notches }];
  });
}

function plainTurns(camera: Camera, settings: Settings, value: EngineValue): Turn[] {
  const frame = camera.analysis.width * camera.analysis.height;
  const plain =
    value === 'persistence'
      ? LONGER.map((more) => settings.persistence + more)
      : value === 'mostChanged'
        ? LARGEST_SHARES.map((share) => Math.round(share * frame)).filter(
            (area) => area < settings.mostChanged,
          )
        : [];
  return plain.map((x, i) => ({
    kind: kindOf(value),
    settings: { ...settings, [value]: x },
    turn: null,
    notches: i + 1,
  }));
}

function kindOf(value: EngineValue): Turn['kind'] {
  return value === 'persistence' || value === 'mostChanged' ? value : 'dial';
}
