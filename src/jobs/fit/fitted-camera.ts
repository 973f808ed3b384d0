import { figure } from '../../base/figures.js';
import { defaultCamera } from '../../camera/default.js';
import type { Camera } from '../../camera/description.js';
import { type Controls, type Dial, positions, senseless, valueAt } from '../../camera/dials.js';
import type { Burst } from '../../fit/bursts.js';
import type { Explained } from '../../fit/explained.js';
import type { Size } from '../../fit/look.js';

/** A camera as it was fitted, with what the owner knew of it. */
export interface FittedCamera {
  camera: Camera;
  notes: string[];
}

/**
 * The description that explains the fired times as a camera file has it; dials, photos, lens, power and card are those of the
 * camera given, as far as they go with the rest.
 * @param burst seen in the photos themselves
 */
export function fittedCamera(
  { look, rate, values }: Pick<Explained, 'look' | 'rate' | 'values'>,
  base: Camera | null,
  burst: Burst | null,
): FittedCamera {
  const notes: string[] = [];
  const { width, height, smooth, reference, whileBusy } = look;
  const photos = base?.burst ?? {
    photos: burst?.photos ?? 1,
    interval: burst ? Number(burst.interval.toPrecision(3)) : 1,
  };
  const shutterLag = base?.shutterLag ?? 0;
  const busy = shutterLag + (photos.photos - 1) * photos.interval;
  // With a busy time of its own above what the cooldown was found to be, it could not have fired as it did.
  const isSlower = busy > values.cooldown + 1e-9;
  if (isSlower) {
    notes.push(
      `its photos would take ${figure(busy)} s, longer than the ${figure(values.cooldown)} s after which it fired again, so shutterLag is 0 and burst one photo`,
    );
  }
  const camera: Camera = {
    ...base,
    version: 1,
    name: base ? `${base.name}, fitted` : 'fitted camera',
    analysis: { width, height, rate: base && base.analysis.rate > rate ? base.analysis.rate : rate, smooth },
    reference: { ...reference, whileBusy },
    area: values.kind,
    shutterLag: isSlower ? 0 : shutterLag,
    burst: isSlower ? { photos: 1, interval: 1 } : photos,
    controls: dialsThatFit(dialsFor(base, { width, height }, notes), width * height, notes),
  };
  return { camera, notes };
}

/** The owner's dials, else the usual ones; those in pixels as large a part of the fitted frame as of their own. */
function dialsFor(base: Camera | null, { width, height }: Size, notes: string[]): Controls {
  const { controls, analysis } = base ?? defaultCamera;
  if (!base) {
    notes.push(
      'its dials are those of the default camera, in pixels of the fitted frame, for nobody said what it has: --camera FILE, or write them into "controls"',
    );
  }
  const share = (width * height) / (analysis.width * analysis.height);
  if (share === 1) return controls;
  if (base) {
    notes.push(
      `dials in pixels are for the fitted frame, ${width} x ${height} instead of ${analysis.width} x ${analysis.height}: as large a part of it`,
    );
  }
  return Object.fromEntries(Object.entries(controls).map(([name, dial]) => [name, scaled(dial, share)]));
}

function scaled(dial: Dial, share: number): Dial {
  if (dial.sets !== 'minimumArea' && dial.sets !== 'mostChanged') return dial;
  const pixels = (area: number) => Math.max(1, Math.round(area * share));
  if ('choices' in dial) return { ...dial, choices: [...new Set(dial.choices.map(pixels))] };
  return { ...dial, gives: [pixels(dial.gives[0]), pixels(dial.gives[1])] };
}

/** Dials in pixels may reach beyond a smaller frame. */
function dialsThatFit(controls: Controls, frame: number, notes: string[]): Controls {
  const fits = (dial: Dial, position: number) =>
    senseless(dial.sets, valueAt(dial, position), frame) === null;
  const kept: Controls = {};
  for (const [name, dial] of Object.entries(controls)) {
    const all = positions(dial);
    const possible = all.filter((position) => fits(dial, position));
    if (possible.length === all.length) kept[name] = dial;
    else if ('choices' in dial && possible.length > 0) kept[name] = { ...dial, choices: possible };
    if (possible.length < all.length) {
      notes.push(
        `the dial ${name} has positions beyond the ${frame} pixels of the fitted frame; ${kept[name] ? 'they were' : 'it was'} left out`,
      );
    }
  }
  return kept;
}
