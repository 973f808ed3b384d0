import { figure, significant } from '../../base/figures.js';
import { Problem } from '../../base/problem.js';
import type { Camera } from '../../camera/description.js';
import type { Between } from '../../outing/between.js';
import { times } from '../../outing/between.js';
import { batteryHours, photosLeft, powerOf, wattHours, watts } from '../../outing/power.js';
import type { SiteResult } from '../../tune/site-result.js';
import { triggersOf } from '../budget/photos-from.js';

/** What was asked of the battery, and how long it lasts with what is recommended. */
export interface BatteryTold {
  /** Hours that it is to last. */
  asked: number;
  /** A sentence: what it leaves for photos, and from which figures. */
  reckoned: string;
  /** A line for each figure that stood in for one that camera.json leaves out. */
  assumed: string[];
  /** In the order of the sites. */
  sites: {
    site: string | null;
    /** With photos at visits too; null where nothing was watched. */
    hours: Between | null;
    photosPerHour: Between | null;
  }[];
}

/** How long the battery lasts with what is recommended at each site, photos at visits counted, as `budget --from` does. */
export function batteryTold(
  camera: Camera,
  asked: number,
  sites: readonly Pick<SiteResult, 'site' | 'recommended'>[],
): BatteryTold {
  return {
    asked,
    reckoned: photosThatLast(camera, asked).reckoned,
    assumed: powerOf(camera).assumed,
    sites: sites.map(({ site, recommended }) => ({ site, ...batteryAt(camera, recommended) })),
  };
}

/** How long a battery lasts with some settings, photos at visits counted; null where nothing was watched. */
export function batteryAt(
  camera: Camera,
  choice: SiteResult['recommended'],
): Pick<BatteryTold['sites'][number], 'hours' | 'photosPerHour'> {
  const triggers = triggersOf(choice);
  const photosPerHour = triggers && times(triggers, camera.burst.photos);
  return { photosPerHour, hours: photosPerHour && batteryHours(powerOf(camera).power, photosPerHour) };
}

/**
 * Photos an hour that the camera's battery leaves if it must last so many hours.
 * @returns also what was reckoned, in a line
 * @throws Problem 'usage' where it does not last that long even idle, or photos take nothing of it
 */
export function photosThatLast(camera: Camera, hours: number): { photosPerHour: number; reckoned: string } {
  const { power, assumed } = powerOf(camera);
  const [held, idle] = [wattHours(power).low, watts(power, 0)];
  const has = `${significant(held, 3)} Wh reach the camera at the least, which draws ${significant(idle, 3)} W idle`;
  const stoodIn = assumed.length === 0 ? '' : `; taken as usual: ${assumed.join('; ')}`;
  const photosPerHour = photosLeft(power, hours);
  if (photosPerHour === null) {
    throw new Problem(
      'usage',
      `--lasts ${hours}: the battery lasts ${significant(held / idle, 3)} hours even if no photo is taken, because ${has}; ask for less, or write a larger battery into camera.json (power)${stoodIn}`,
    );
  }
  if (photosPerHour === Number.POSITIVE_INFINITY) {
    throw new Problem(
      'usage',
      '--lasts: expected a camera whose photos take something of the battery, found power.photoJoules 0; write in what one takes, or say what is wanted with --false-per-hour',
    );
  }
  const { photos } = camera.burst;
  const triggers = photos === 1 ? ',' : `, ${figure(photosPerHour / photos)} triggers of ${photos},`;
  return {
    photosPerHour,
    reckoned: `--lasts ${hours}: over what it draws idle the battery leaves ${figure(photosPerHour)} photos an hour${triggers} those of animals too, which are taken off for what is chosen. ${has}; a photo takes ${significant(power.photoJoules, 3)} J${stoodIn}`,
  };
}
