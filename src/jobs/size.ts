import { plural } from '../base/figures.js';
import { hint, Problem } from '../base/problem.js';
import { quoted } from '../base/text.js';
import type { Camera } from '../camera/description.js';
import { animalLengths } from '../outing/animals.js';
import { type Between, exactly } from '../outing/between.js';
import { type Looks, looksOf } from '../outing/looks.js';
import { type CameraGiven, openCamera } from './open.js';

export interface SizeInput {
  camera?: CameraGiven;
  /** Centimetres, or the name of an animal. */
  length: number | string;
  /** Metres. */
  distance: number;
}

export interface SizeResult extends Looks {
  camera: Camera;
  /** By name; null where a length was given. */
  animal: string | null;
  /** A line for each thing that was taken to be so. */
  assumed: string[];
  /** What should be known of it. */
  notes: string[];
}

/**
 * How large an animal looks to a camera, which minimumArea to start from, and between which distances it then fires.
 * @throws Problem for an animal that has no length here, and for what is wrong with the camera
 */
export async function size({ camera: given, length, distance }: SizeInput): Promise<SizeResult> {
  const camera = await openCamera(given);
  const { animal, lengthCm, ofAnimal } =
    typeof length === 'number'
      ? { animal: null, lengthCm: exactly(length), ofAnimal: [] }
      : lengthOf(length.trim().toLowerCase());
  const { looks, assumed } = looksOf(camera, lengthCm, distance);
  return {
    camera,
    animal,
    ...looks,
    assumed: [...ofAnimal, ...assumed],
    notes: notesOn(looks, camera),
  };
}

/** The document of `size --json`. */
export function sizeDocument({ camera, ...told }: SizeResult) {
  return { camera: camera.name, ...told };
}

function lengthOf(animal: string): { animal: string; lengthCm: Between; ofAnimal: string[] } {
  const found = Object.hasOwn(animalLengths, animal) ? animalLengths[animal] : undefined;
  if (!found) {
    const names = Object.keys(animalLengths);
    throw new Problem(
      'usage',
      `--animal: expected one of ${names.join(', ')}, found ${quoted(animal)}${hint(animal, names)}; or give its length in centimetres with --length`,
    );
  }
  const { source, ...lengthCm } = found;
  const { value, low, high } = lengthCm;
  return { animal, lengthCm, ofAnimal: [`a ${animal} ${value} cm long (${low} to ${high}, ${source})`] };
}

function notesOn(
  { pixels, minimumArea, fires, distance, nearest, nearestBy, range }: Looks,
  { analysis: { width, smooth } }: Camera,
): string[] {
  const box = 2 * smooth + 1;
  return [
    ...(fires
      ? range.area.low < minimumArea
        ? ['One of the shortest that are common does not fire at this distance.']
        : []
      : [
          `At this distance it is smaller than the lowest minimumArea, ${plural(minimumArea, 'pixel')}: bring the camera nearer, or compare larger frames (analysis).`,
        ]),
    ...(distance < nearest
      ? [
          nearestBy === 'frame'
            ? `At this distance it is larger than the frame of ${width} pixels across.`
            : 'At this distance it may change more of the frame than mostChanged allows at its highest, and then it does not fire.',
        ]
      : distance < range.nearest.high
        ? [
            nearestBy === 'frame'
              ? 'One of the longest that are common is larger than the frame at this distance.'
              : 'One of the longest that are common may change more of the frame at this distance than mostChanged allows at its highest, and then it does not fire.',
          ]
        : []),
    ...(smooth > 0 && pixels / 2 < box
      ? [
          `It is thinner than the ${box} pixels over which the camera smooths, so that its contrast is weakened: expect it to fire from nearer only, or at a lower threshold.`,
        ]
      : []),
  ];
}
