import { figure } from '../base/figures.js';
import type { Camera } from '../camera/description.js';
import { type Dial, dialFor, type EngineValue, engineValues } from '../camera/dials.js';
import type { shippedCameras } from '../files/shipped-cameras.js';
import { areaText, referenceText } from './fit-wording.js';

/** What the cameras that ship do, for whoever looks for the one that is most like theirs. */
export const whatShippedDo: Record<(typeof shippedCameras)[number], string> = {
  'previous-frame': 'Sees what moves, and forgets it at once. What sits still is not seen.',
  'slow-average': 'Also sees what creeps in, or sits where nothing sat; a cloud stays with it for a while.',
  'small-and-slow':
    'For a very small board: small pictures, few of them, and all that changed counts together.',
  'frozen-while-busy':
    'Compares with nothing new while it takes its photos: what came meanwhile, and stays, fires it again.',
  'restarts-when-idle': 'Begins anew after its photos: what came meanwhile, and stays, is never seen.',
};

/** One thing that is said of a camera. */
export interface Trait {
  what: string;
  is: string;
}

/** All that decides when a camera fires, in words; always the same traits in the same order. */
export function traitsOf(camera: Camera): Trait[] {
  const { width, height, rate, smooth } = camera.analysis;
  const { photos, interval } = camera.burst;
  const blur = smooth === 0 ? 'not blurred' : `blurred by ${smooth}`;
  const apart = photos === 1 ? '1 photo' : `${photos} photos, ${figure(interval)} s apart`;
  return [
    { what: 'pictures that it compares', is: `${width} x ${height} pixels, ${blur}` },
    { what: 'how often it looks', is: `${figure(rate)} times a second` },
    { what: 'compares with', is: referenceText(camera.reference) },
    { what: 'what must be large enough', is: areaText(camera.area) },
    { what: 'when it fires', is: `${apart}, the first after ${figure(camera.shutterLag)} s` },
    ...engineValues.map((value) => ({ what: DIALS[value], is: dialText(dialFor(camera.controls, value)) })),
  ];
}

/** What of a camera's traits is another on a second one. */
export function traitChanges(was: Camera, is: Camera): (Trait & { was: string })[] {
  const before = traitsOf(was);
  return traitsOf(is).flatMap((trait, i) => {
    const then = before[i]!.is;
    return then === trait.is ? [] : [{ ...trait, was: then }];
  });
}

const DIALS: Record<EngineValue, string> = {
  threshold: 'dial for the threshold',
  minimumArea: 'dial for the smallest area',
  mostChanged: 'dial for the most that may change',
  persistence: 'dial for pictures in a row',
  cooldown: 'dial for the rest after it fired',
};

function dialText(found: [name: string, dial: Dial] | undefined): string {
  if (!found) return 'none';
  const [name, dial] = found;
  if ('choices' in dial) return `${name}: ${dial.choices.join(', ')}`;
  return `${name}: ${dial.from} to ${dial.to} (${dial.gives.join(' to ')})`;
}
