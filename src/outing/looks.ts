import type { Camera } from '../camera/description.js';
import { dialFor, positions, valueAt } from '../camera/dials.js';
import { defaultGeometry } from '../weather/defaults.js';
import { focalPixels } from '../weather/rain/streaks.js';
import type { Between } from './between.js';

/**
 * Height of a body for its length, seen from the side: an assumption. A body is taken as an ellipse in that view and as a
 * circle of its height seen from the end, as of an egg lying down. Tails and bills are thin and legs thinner, so that a bird
 * has less area for its length than a hedgehog.
 */
export const BODY_RATIO = 0.5;

/** What follows from an animal's length, at a distance and with a minimumArea. */
export interface ByLength {
  /** Long, seen from the side. */
  pixels: number;
  /** To be expected from the side. */
  area: number;
  /** Metres up to which the area expected reaches minimumArea, from the side and from the end. */
  farthest: number;
  farthestEndOn: number;
  /** Metres nearer than which it fills the frame, or may change more of it than mostChanged allows at its highest. */
  nearest: number;
}

/** How large an animal looks to a camera, in pixels at the analysis size, and from where on it fires. */
export interface Looks extends ByLength {
  lengthCm: Between;
  /** The same for one as short and as long as `lengthCm` may be. */
  range: Record<keyof ByLength, Pick<Between, 'low' | 'high'>>;
  /** Metres. */
  distance: number;
  /** To start from. */
  minimumArea: number;
  /** The dial's position that gives it; none where the camera has no such dial. */
  controls: Record<string, number>;
  /** Whether the area expected from the side reaches it at this distance. */
  fires: boolean;
  nearestBy: 'frame' | 'mostChanged';
  /** The same at both ends of the dial, or of the whole frame. */
  mostChanged: { value: number; nearest: number }[];
}

/**
 * How an animal of a length looks at a distance.
 *
 * minimumArea starts at half of the area seen from the side: a body seen from the end shows, at half its length high, just
 * half of that, and one that is partly hidden, or of which a part is as bright as the ground, about as much. The dial's
 * nearest position not above is taken, its lowest where all are above.
 *
 * What changes between two frames may be twice the body, where it was and where it is, so mostChanged must leave room for
 * two; and may be less than it, where the animal moves by less than its length.
 * @returns also a line for each figure that stood in for one that camera.json leaves out
 */
export function looksOf(
  camera: Camera,
  lengthCm: Between,
  distance: number,
): { looks: Looks; assumed: string[] } {
  const { width, height } = camera.analysis;
  const hfov = camera.lens?.hfov ?? defaultGeometry.hfov;
  /** Pixels long at one metre. */
  const atOneOf = (cm: number) => (focalPixels(width, hfov) * cm) / 100;
  const atOne = atOneOf(lengthCm.value);
  const start = startFrom(camera, ellipse(atOne / distance) / 2);
  const fillsOf = (long: number) => Math.max(long / width, (long * BODY_RATIO) / height);
  const nearestOf = (long: number, most: number) =>
    most >= width * height ? fillsOf(long) : Math.max(fillsOf(long), Math.sqrt((2 * ellipse(long)) / most));
  const ends = endsOf(camera);
  const byLength = (long: number): ByLength => {
    const farthest = Math.sqrt(ellipse(long) / start.minimumArea);
    return {
      pixels: long / distance,
      area: ellipse(long / distance),
      farthest,
      farthestEndOn: farthest * Math.sqrt(BODY_RATIO),
      nearest: nearestOf(long, ends.at(-1)!),
    };
  };
  const likely = byLength(atOne);
  const [shortest, longest] = [byLength(atOneOf(lengthCm.low)), byLength(atOneOf(lengthCm.high))];
  const between = (name: keyof ByLength) => ({ low: shortest[name], high: longest[name] });
  return {
    looks: {
      lengthCm,
      distance,
      ...likely,
      range: {
        pixels: between('pixels'),
        area: between('area'),
        farthest: between('farthest'),
        farthestEndOn: between('farthestEndOn'),
        nearest: between('nearest'),
      },
      ...start,
      fires: likely.area >= start.minimumArea,
      nearestBy: likely.nearest > fillsOf(atOne) ? 'mostChanged' : 'frame',
      mostChanged: ends.map((value) => ({ value, nearest: nearestOf(atOne, value) })),
    },
    assumed: [
      `a body ${BODY_RATIO} times as high as long, an ellipse from the side, all of which changes by the threshold or more`,
      ...(camera.lens ? [] : [`lens.hfov: ${hfov} degrees across`]),
    ],
  };
}

/** Area of a body seen from the side, square pixels, by its length in pixels. */
function ellipse(length: number): number {
  return (Math.PI / 4) * BODY_RATIO * length ** 2;
}

/** The highest minimumArea that the camera's dial gives up to an area, else its lowest; without a dial, whole pixels. */
function startFrom({ controls }: Camera, upTo: number): Pick<Looks, 'minimumArea' | 'controls'> {
  const found = dialFor(controls, 'minimumArea');
  if (!found) return { minimumArea: Math.max(1, Math.floor(upTo)), controls: {} };
  const [name, dial] = found;
  const all = positions(dial)
    .map((position) => ({ position, value: valueAt(dial, position) }))
    .sort((a, b) => a.value - b.value);
  const { position, value } = all.findLast((one) => one.value <= upTo) ?? all[0]!;
  return { minimumArea: value, controls: { [name]: position } };
}

/** The lowest and the highest mostChanged that the camera's dial gives; the whole frame where it has none. */
function endsOf({ controls, analysis: { width, height } }: Camera): number[] {
  const found = dialFor(controls, 'mostChanged');
  if (!found) return [width * height];
  const [, dial] = found;
  const values = positions(dial).map((position) => valueAt(dial, position));
  const least = values.reduce((a, b) => Math.min(a, b));
  const most = values.reduce((a, b) => Math.max(a, b));
  return least === most ? [most] : [least, most];
}
