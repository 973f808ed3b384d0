import { significant } from '../../base/figures.js';
import { Problem } from '../../base/problem.js';
import type { Camera } from '../../camera/description.js';
import type { Clip } from '../../clip/open.js';
import type { Size } from '../../weather/averaging.js';
import { defaultOptics } from '../../weather/defaults.js';
import { OVERCAST_DAYLIGHT } from '../../weather/light/light.js';
import type { PhotonTransfer } from '../../weather/sensor/photon-transfer.js';
import { exposureAt, rightExposure } from '../../weather/sensor/sensor.js';
import type { Optics, SensorNoise } from '../../weather/setup.js';
import { noiseOf } from './noise.js';
import { elementsFrom, noiseInWords } from './noise-words.js';

/** What is known of a camera's sensor and exposure. */
export interface Sensor {
  optics: Optics;
  noise: SensorNoise;
  /** A line for each default that was used. */
  defaults: string[];
}

export interface SensorSources {
  clip: Clip;
  /** In what light it was recorded, as far as that is known; lux. */
  light: number | undefined;
  camera: Pick<Camera, 'exposure' | 'sensor'>;
  /** The size at which noise must be right. */
  at: Size;
  /** Another clip of the same camera to measure noise on. */
  noiseFrom?: Clip | undefined;
  signal?: AbortSignal | undefined;
}

/** A clip whose noise could be measured. */
interface Known {
  clip: Clip;
  light: number;
  /** Whether its light is stated, and not taken by default. */
  stated: boolean;
  transfer: Extract<PhotonTransfer, { kind: 'measured' }>;
}

/**
 * What the camera's sensor is like: measured on the clip given for it, else as camera.json says, else measured on the clip
 * itself, else by default. Where two clips of the same camera and site were recorded in different light, they pin the
 * limits of its exposure and gain too, unless camera.json says them.
 * @throws Problem 'usage' where the clip given for it cannot tell
 */
export async function sensorOf(sources: SensorSources): Promise<Sensor> {
  const { clip, light, camera, at, noiseFrom, signal } = sources;
  const own = await noiseOf(clip, at, signal);
  const given = noiseFrom && (await givenNoise(noiseFrom, at, signal));
  const known = [
    ...(noiseFrom && given ? knownOf(noiseFrom, given, noiseFrom.manifest.conditions?.light) : []),
    ...knownOf(clip, own, light),
  ].sort((a, b) => b.light - a.light);
  const stated = statedSensor(camera).optics;
  const limits = camera.exposure ? null : pinned(known, stated);
  const optics = { ...stated, ...limits?.optics };
  const noise = {
    at,
    limits: limits !== null,
    own: own.kind === 'measured' ? own.line : own.noiseless ? { floor: 0, slope: 0 } : null,
  };
  const exposureDefaults = limits ? [] : statedSensor({ ...camera, sensor: stated }).defaults;
  // A pair tells by its brighter clip, whose gain is the better known; else what was given for it tells.
  const reference = (limits ? undefined : known.find((one) => one.clip === noiseFrom)) ?? known[0];
  if (!reference || (camera.sensor && !noiseFrom)) {
    const figures = `full well ${significant(stated.fullWell, 3)} e-, read noise ${significant(stated.readNoise, 3)} e-`;
    return {
      optics,
      noise: {
        ...noise,
        measured: false,
        readNoise: false,
        how: [
          camera.sensor
            ? `sensor noise as camera.json says: ${figures}`
            : `sensor noise assumed: ${figures}; on ${clip.dir} it cannot be measured, because ${(own as { why: string }).why}`,
          ...(limits?.how ?? []),
        ],
      },
      defaults: [...exposureDefaults, ...statedSensor({ ...camera, exposure: stated }).defaults],
    };
  }
  const { gain } = exposureAt(reference.light, optics, reference.clip.rate);
  const found = elementsFrom(reference.transfer, gain, at.width);
  const { fullWell, readNoise } = found;
  return {
    optics: { ...optics, fullWell, readNoise: readNoise.taken },
    noise: {
      ...noise,
      measured: true,
      readNoise: readNoise.low > 0,
      how: [noiseInWords(reference, found, gain, at), ...(limits?.how ?? [])],
    },
    defaults: exposureDefaults,
  };
}

/** What camera.json says of sensor and exposure, with a line for each default that stands in. */
export function statedSensor({
  exposure,
  sensor,
}: SensorSources['camera']): Pick<Sensor, 'optics' | 'defaults'> {
  const { longest, mostGain, fullWell, readNoise } = defaultOptics;
  return {
    optics: { ...defaultOptics, ...exposure, ...sensor },
    defaults: [
      ...(exposure
        ? []
        : [`camera.json: exposure.longest ${significant(longest, 3)} s, exposure.mostGain ${mostGain}`]),
      ...(sensor ? [] : [`camera.json: sensor.fullWell ${fullWell} e-, sensor.readNoise ${readNoise} e-`]),
    ],
  };
}

/**
 * The noise of a clip that was given to measure it on.
 * @throws Problem 'usage' where it cannot tell
 */
export async function givenNoise(clip: Clip, at: Size, signal?: AbortSignal): Promise<Known['transfer']> {
  const transfer = await noiseOf(clip, at, signal);
  if (transfer.kind === 'measured') return transfer;
  throw new Problem(
    'usage',
    `${clip.dir}: noise cannot be measured on it, because ${transfer.why}; give lossless stills of a place where most stands still, bright parts and dark ones, or leave --noise-from out`,
  );
}

function knownOf(clip: Clip, transfer: PhotonTransfer, light: number | undefined): Known[] {
  if (transfer.kind !== 'measured') return [];
  const stated = light !== undefined;
  return [{ clip, transfer, light: light ?? OVERCAST_DAYLIGHT, stated }];
}

/** How much darker the darker of two clips must be to tell limits, and how much more its gain. */
const DARKER = 4;
const MORE_GAIN = 1.15;
/** A picture below this part of its right brightness was taken at the limits of exposure and gain. */
const AT_LIMITS = 0.8;

/**
 * Exposure and gain at their limits, from a bright and a dark clip of the same camera and site: gain from how much steeper
 * the noise grows with the light, exposure from how bright the picture came out with that gain.
 * @param known the brightest first
 */
function pinned(
  known: readonly Known[],
  stated: Optics,
): { optics: Pick<Optics, 'longest' | 'mostGain'>; how: string[] } | null {
  const [bright, dark] = [known[0], known.at(-1)];
  if (!bright || !dark?.stated || bright.light < DARKER * dark.light || dark.light === 0) return null;
  if ((bright.clip.manifest.site ?? '') !== (dark.clip.manifest.site ?? '')) return null;
  const before = exposureAt(bright.light, stated, bright.clip.rate);
  const gain = (before.gain * dark.transfer.line.slope) / bright.transfer.line.slope;
  if (gain < MORE_GAIN * before.gain) return null;
  const level = Math.min(1, (before.level * dark.transfer.brightness) / bright.transfer.brightness);
  const seconds = Math.min(1 / dark.clip.rate, (level * rightExposure(dark.light)) / gain);
  const atLimits = level < AT_LIMITS;
  const mostGain = atLimits ? gain : Math.max(gain, stated.mostGain);
  return {
    optics: { longest: seconds, mostGain },
    how: [
      `limits measured on ${dark.clip.dir} (${significant(dark.light, 3)} lux) against ${bright.clip.dir}: an exposure of ${significant(seconds, 2)} s with a gain of ${significant(gain, 2)}, ${atLimits ? 'the most, for the picture came out dark' : `and a most gain of ${significant(mostGain, 2)}, for the picture came out bright enough`}`,
    ],
  };
}
