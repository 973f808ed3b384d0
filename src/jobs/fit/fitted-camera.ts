import { figure, significant } from '../../base/figures.js';
import { short } from '../../base/text.js';
import { defaultCamera } from '../../camera/default.js';
import type { Camera } from '../../camera/description.js';
import { type Controls, type Dial, positionOf, positions, senseless, valueAt } from '../../camera/dials.js';
import { holding } from '../../camera/holding.js';
import type { Settings } from '../../camera/settings.js';
import { busySeconds } from '../../engine/triggers.js';
import type { Explained } from '../../fit/choice/explained.js';
import type { Burst } from '../../fit/fired/bursts.js';
import type { Size } from '../../fit/search/look.js';

/** A camera as it was fitted, with what the owner knew of it. */
export interface FittedCamera {
  camera: Camera;
  notes: string[];
}

/**
 * The description that explains the fired times as a camera file has it; dials, photos, lens, power and card are those of the
 * camera given, as far as they go with the rest.
 * @param burst of the fired times as they were counted, which goes before that of the camera given; null: one photo a trigger
 */
export function fittedCamera(
  { look, rate, values, mostChanged }: Pick<Explained, 'look' | 'rate' | 'values' | 'mostChanged'>,
  base: Camera | null,
  burst: Burst | null,
): FittedCamera {
  const notes: string[] = [];
  const { width, height, smooth, reference, whileBusy } = look;
  const photos = burstFor(base, burst);
  const shutterLag = base?.shutterLag ?? assumedLag(photos, values.cooldown);
  const busy = busySeconds(0, shutterLag, photos.photos, photos.interval);
  // With a busy time of its own above what the cooldown was found to be, it could not have fired as it did.
  const isSlower = busy > values.cooldown + 1e-9;
  if (isSlower) {
    notes.push(
      `its photos would take ${figure(busy)} s, longer than the ${figure(values.cooldown)} s after which it fired again, so shutterLag is 0 and burst one photo`,
    );
  } else {
    notes.push(
      `photos do not tell the shutter lag from the clock: shutterLag ${significant(shutterLag, 6)} s is ${base ? 'as your description has it' : 'the default camera’s, as far as the cooldown allows'}; what has gone before the first photo depends on it, so measure it once`,
    );
  }
  const dials = dialsFor(base, { width, height }, notes);
  const found = {
    threshold: values.level,
    minimumArea: values.area,
    mostChanged: mostChanged ?? width * height,
    persistence: values.persistence,
    cooldown: values.cooldown,
  };
  const camera: Camera = {
    ...base,
    version: 1,
    name: base ? `${base.name}, fitted` : 'fitted camera',
    analysis: { width, height, rate: rateFor(base, rate, notes), smooth },
    reference: { ...reference, whileBusy },
    area: values.kind,
    shutterLag: isSlower ? 0 : shutterLag,
    burst: isSlower ? { photos: 1, interval: 1 } : photos,
    controls: base ? dials : holdingFound(dials, found, notes),
  };
  if (base) notes.push(...offItsDials(camera.controls, found));
  return { camera, notes };
}

/** The photos at each trigger as they were counted: with the interval of the camera given where it says as many. */
export function burstFor(base: Camera | null, burst: Burst | null): Burst {
  const photos = burst?.photos ?? 1;
  if (base?.burst.photos === photos) return base.burst;
  return { photos, interval: burst ? Number(burst.interval.toPrecision(3)) : 1 };
}

/** The default camera's, or less where nothing more goes into the time after which it fired again. */
function assumedLag({ photos, interval }: Burst, cooldown: number): number {
  return Math.min(defaultCamera.shutterLag, Math.max(0, cooldown - (photos - 1) * interval));
}

/** Dials that nobody said the camera has, with what was found among their positions. */
function holdingFound(controls: Controls, found: Settings, notes: string[]): Controls {
  const { controls: dials, added } = holding(controls, found);
  const told = added.map(({ sets, value }) => `${sets} ${significant(value, 6)}`);
  if (told.length > 0)
    notes.push(`what was found stands among the positions of those dials: ${told.join(', ')}`);
  return dials;
}

/** What was found and no position of the owner's dials gives. */
function offItsDials(controls: Controls, found: Settings): string[] {
  const off = Object.entries(controls).flatMap(([name, dial]) => {
    if (dial.sets === 'mostChanged' || positionOf(dial, found[dial.sets]) !== undefined) return [];
    const value = found[dial.sets];
    const nearest = positions(dial).reduce((a, b) =>
      Math.abs(valueAt(dial, b) - value) < Math.abs(valueAt(dial, a) - value) ? b : a,
    );
    return [`${dial.sets} ${significant(value, 6)} (the nearest of ${short(name)}: ${nearest})`];
  });
  return off.length === 0
    ? []
    : [
        `no position of its dials gives ${off.join(', ')}: replay takes them from the settings file all the same, and says that they cannot be set`,
      ];
}

/** Of its rate, by how much a camera may be said to look more often than the clip's frames come, and mean the same. */
const SAME_RATE = 0.05;

/** The rate it was fitted at, for lag and persistence are counted in frames; the owner's word for the same. */
function rateFor(base: Camera | null, fitted: number, notes: string[]): number {
  const said = base?.analysis.rate ?? fitted;
  if (Math.abs(said - fitted) <= SAME_RATE * said) return said;
  notes.push(
    `it is said to look at ${significant(said, 3)} frames a second, and was fitted by the ${significant(fitted, 3)} that the clip has of them; how far back it compares and its persistence are in frames of the clip`,
  );
  return fitted;
}

/** The owner's dials, else the usual ones; those in pixels as large a part of the fitted frame as of their own. */
function dialsFor(base: Camera | null, { width, height }: Size, notes: string[]): Controls {
  const { controls, analysis } = base ?? defaultCamera;
  if (!base) {
    notes.push(
      'its dials are those of the default camera, in pixels of the fitted frame, because nobody said which it has: give your own description of it, or write them into "controls"',
    );
  }
  const frame = width * height;
  const share = frame / (analysis.width * analysis.height);
  if (share === 1) return controls;
  if (base) {
    notes.push(
      `dials in pixels are for the fitted frame, ${width} x ${height} instead of ${analysis.width} x ${analysis.height}: as large a part of it`,
    );
  }
  const dials = Object.entries(controls).map(([name, dial]) => {
    const fitted = scaled(dial, share, frame);
    if ('choices' in fitted && !('choices' in dial)) {
      notes.push(
        `the positions of the dial ${name} are now pixels of the fitted frame, which is too small for even steps`,
      );
    }
    return [name, fitted] as const;
  });
  return Object.fromEntries(dials);
}

/** A dial in pixels of another frame; a straight one whose steps that frame cannot tell apart, or hold, as a list of pixels. */
function scaled(dial: Dial, share: number, frame: number): Dial {
  const { sets } = dial;
  if (sets !== 'minimumArea' && sets !== 'mostChanged') return dial;
  const pixels = (area: number) => Math.min(frame, Math.max(1, Math.round(area * share)));
  const listed = (areas: readonly number[]): Dial => ({ sets, choices: [...new Set(areas.map(pixels))] });
  if ('choices' in dial) return listed(dial.choices);
  const [first, last] = [pixels(dial.gives[0]), pixels(dial.gives[1])];
  const straight: Dial = { ...dial, gives: [first, last] };
  const isSound =
    first !== last &&
    positions(straight).every((position) => senseless(sets, valueAt(straight, position), frame) === null);
  return isSound ? straight : listed(positions(dial).map((position) => valueAt(dial, position)));
}
