import { significant } from '../base/figures.js';
import type { Camera } from '../camera/description.js';
import { type PhotoSizes, photoSizes } from '../clip/photo-sizes.js';
import { type Between, exactly } from '../outing/between.js';
import { type Budget, budgetOf } from '../outing/budget.js';
import { storageOf } from '../outing/card.js';
import { maySwitchOff, type Power, powerOf } from '../outing/power.js';
import { meanSize } from './budget/mean-size.js';
import { photosFrom } from './budget/photos-from.js';
import { type CameraGiven, openCamera } from './open.js';
import type { Ports } from './ports.js';

export interface BudgetInput {
  camera?: CameraGiven;
  /** Photos an hour, not triggers; or else what `tune --json` or `plan --json` printed, and which of its sites where it has several. */
  photosPerHour?: number | { from: string; site?: string | undefined } | undefined;
  /** Hours a day that the camera is out; 24 where left out. */
  hoursOut?: number | undefined;
  /** A folder of the owner's own photos, to measure how large they are. */
  photos?: string | undefined;
}

export interface BudgetResult extends Budget {
  camera: Camera;
  /** Of the owner's own photos; null: none were given. */
  measured: PhotoSizes | null;
  /** A line for each figure that stood in for one that nobody gave. */
  assumed: string[];
  /** What should be known of it. */
  notes: string[];
}

const WHOLE_DAY = 24;

/**
 * How long battery and card last, which ends first, and how many photos there are to look through each evening, each with
 * how little and how much it may be.
 * @throws Problem for anything wrong with what was given
 */
export async function budget(
  input: BudgetInput,
  { onWarning = () => undefined }: Ports = {},
): Promise<BudgetResult> {
  const camera = await openCamera(input.camera);
  const perHour = await photosPerHourOf(input.photosPerHour, camera, onWarning);
  const measured = input.photos === undefined ? null : await photoSizes(input.photos, onWarning);
  const { power, assumed: ofPower, widened } = powerOf(camera);
  const mean = measured ? meanSize(measured) : null;
  const { storage, assumed: ofStorage } = storageOf(camera, mean?.photoMB ?? null);
  const hoursOut = input.hoursOut ?? WHOLE_DAY;
  return {
    camera,
    ...budgetOf(power, storage, perHour ?? exactly(0), hoursOut),
    measured,
    assumed: [
      ...ofPower,
      ...ofStorage,
      ...(mean?.assumed ?? []),
      ...(perHour ? [] : ['photos an hour: none, because neither --photos-per-hour nor --from says']),
      ...(input.hoursOut === undefined ? [`hours out a day: ${WHOLE_DAY}`] : []),
      ...(hoursOut < WHOLE_DAY ? ['outside its hours out the camera is switched off and draws nothing'] : []),
    ],
    notes: [...(widened === null ? [] : [`${widened}.`]), ...notesOn(power)],
  };
}

/** The document of `budget --json`. */
export function budgetDocument({ camera, ...told }: BudgetResult) {
  return { camera: camera.name, ...told };
}

async function photosPerHourOf(
  given: BudgetInput['photosPerHour'],
  { burst }: Camera,
  onWarning: (line: string) => void,
): Promise<Between | null> {
  if (given === undefined) return null;
  if (typeof given === 'number') return exactly(given);
  return photosFrom(given.from, given.site, burst.photos, onWarning);
}

function notesOn(power: Power): string[] {
  const { volts, idle } = power;
  return [
    ...(maySwitchOff(power)
      ? [
          `Many power banks take a draw as small as ${significant(idle, 3)} A at ${significant(volts, 3)} V for nothing plugged in and switch themselves off within a minute (common practice, not measured). Try yours for some hours, or use one that stays on.`,
        ]
      : []),
    'A board that starts from the same card needs some GB of it for itself: give in storage.cardGB what is free for photos.',
  ];
}
