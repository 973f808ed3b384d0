import { Problem } from '../../base/problem.js';
import type { Camera } from '../../camera/description.js';
import { type CameraGiven, openTunable } from '../open.js';

/** A camera to be compared with others, and the file that describes it, if there is one. */
export interface CameraNamed {
  camera: Camera;
  file: string | null;
}

/**
 * The cameras given, the first of them first, opened.
 * @throws Problem where one is given twice
 */
export async function camerasNamed(
  first: CameraGiven,
  others: readonly NonNullable<CameraGiven>[],
): Promise<CameraNamed[]> {
  const named: CameraNamed[] = [];
  for (const given of [first, ...others]) {
    named.push({ camera: await openTunable(given), file: typeof given === 'string' ? given : null });
  }
  calledApart(named);
  return named;
}

/**
 * What each camera is called: by its name, and where several have the same by its file too.
 * @throws Problem where one is given twice
 */
export function calledApart(cameras: readonly CameraNamed[]): string[] {
  const whole = cameras.map(({ camera }) => JSON.stringify(camera));
  const twin = whole.findIndex((text, i) => whole.indexOf(text) < i);
  if (twin > 0) {
    const names = [cameras[whole.indexOf(whole[twin]!)]!, cameras[twin]!];
    throw new Problem(
      'usage',
      `--camera: expected cameras that differ, found the same twice (${names.map(({ file, camera }) => file ?? camera.name).join(', ')}); leave one out`,
    );
  }
  return cameras.map(({ camera, file }, i) => {
    const alike = cameras.filter((other) => other.camera.name === camera.name);
    return alike.length === 1 ? camera.name : (file ?? `${camera.name} ${i + 1}`);
  });
}
