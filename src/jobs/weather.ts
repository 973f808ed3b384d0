import { z } from 'zod';
import { significant } from '../base/figures.js';
import { Problem } from '../base/problem.js';
import { quoted } from '../base/text.js';
import type { Camera } from '../camera/description.js';
import type { Manifest } from '../clip/manifest.js';
import type { Clip } from '../clip/open.js';
import { liesIn } from '../files/output-folder.js';
import { setupFor } from '../measure/weather/setup-for.js';
import { measureSway } from '../measure/weather/two-clips.js';
import { estimateLight, lightAt } from '../weather/estimate.js';
import type { Conditions } from '../weather/setup.js';
import { type CameraGiven, type ClipGiven, openCamera, openClips } from './open.js';
import { type OpenPorts, openPorts, type Ports } from './ports.js';
import { openNoiseClip } from './weather/noise-clip.js';
import { writeSimulated } from './weather/write.js';

export interface WeatherInput {
  clip: ClipGiven;
  /** The clip folder to make; must not exist yet, or be empty. */
  dir: string;
  /** What it shall become: Beaufort number, mm/h, lux; what is left out stays as recorded. */
  to: Conditions;
  /** Light as at this time (RFC 3339 with a zone) instead of `to.light`. */
  at?: string | undefined;
  /** Everything random follows from it; '1' where left out. */
  seed?: string;
  camera?: CameraGiven;
  /** Against the assumed amplitude of sway. */
  sway?: number | undefined;
  /** Or: a windy clip of the same site to measure it on. */
  swayFrom?: ClipGiven | undefined;
  /** Another clip of the same camera to measure its sensor's noise on; left out: the clip itself, as far as it can tell. */
  noiseFrom?: ClipGiven | undefined;
  /** Called when all is written, before the folder appears, with how much each pixel is foliage; 0 to 255. */
  atLast?: ((foliage: Uint8Array, size: Size) => Promise<void>) | undefined;
}

export interface WeatherResult {
  dir: string;
  frames: number;
  seconds: number;
  simulated: NonNullable<Manifest['simulated']>;
  /** A line for each default that stood in for what neither clip.json nor camera.json says. */
  defaults: string[];
  /** What it was recorded in, as far as it mattered, and what was asked for. */
  from: Conditions;
  to: Conditions;
}

/**
 * Puts wind, rain or low light onto a clip and writes the result as a new clip with the same labels, marked as simulated.
 * Weather is only added: a clip can be made windier, wetter and darker, never calmer, drier or brighter.
 * @throws Problem for a wish that the clip cannot be given, and for whatever cannot be read or written
 */
export async function weather(input: WeatherInput, ports: Ports = {}): Promise<WeatherResult> {
  const open = await openPorts(ports);
  const { dir, seed = '1' } = input;
  const path = typeof input.clip === 'string' ? input.clip : input.clip.dir;
  await refuseInside(path, dir);
  const camera = await openCamera(input.camera);
  const [clip] = (await openClips([input.clip], open)) as [Clip];
  refuseSimulated(clip);
  const light = input.at === undefined ? { lux: input.to.light, how: [] } : lightOf(clip, input.at);
  const to = { ...input.to, light: light.lux };
  const noiseFrom = await noiseClip(input.noiseFrom, to, open);
  const measured = await swayMeasured(clip, input.swayFrom, camera, seed, open);
  open.onPhase(`${path}: looking for foliage and its motion`);
  const size = simulatedSize(clip);
  if (size.width < clip.width) {
    open.onWarning(
      `${path}: its pictures of ${clip.width}x${clip.height} are simulated at ${size.width}x${size.height}, so that they fit into memory`,
    );
  }
  // A factor of the user's is on what is assumed.
  const motion = measured?.motion ?? (input.sway === undefined ? undefined : null);
  const { setup, defaults } = await setupFor(clip, camera, to, {
    ...size,
    seed,
    cache: open.cache,
    sway: input.sway,
    motion,
    foliage: measured?.foliage,
    analysis: camera.analysis,
    noiseFrom,
  });
  open.onPhase(`${dir}: simulating frames`);
  const written = await writeSimulated(clip, dir, setup, {
    assumed: [
      ...(setup.sway === 1 ? [] : [`sway ${significant(setup.sway, 3)} times the assumed amplitude`]),
      ...light.how,
    ],
    start: input.at,
    onProgress: open.onProgress,
    atLast: async () => input.atLast?.(setup.foliage, size),
  });
  return { dir, ...written, defaults, from: setup.from, to: setup.to };
}

/** Weather takes some 60 bytes a pixel. */
const MOST_PIXELS = 2_990_000;

/** Pixels. */
type Size = { width: number; height: number };

/** A clip's own size, or a whole part of it that fits into memory. */
function simulatedSize({ width, height }: Size): Size {
  const by = Math.ceil(Math.sqrt((width * height) / MOST_PIXELS));
  return { width: Math.round(width / by), height: Math.round(height / by) };
}

/** The document of `weather --json`. */
export function weatherDocument({ dir, frames, seconds, simulated, defaults }: WeatherResult) {
  return { dir, frames, seconds, simulated, defaults };
}

async function refuseInside(path: string, dir: string): Promise<void> {
  if (!(await liesIn(dir, path))) return;
  throw new Problem(
    'usage',
    `${dir}: the new clip would lie inside the clip ${path}, which stays as it is; choose a folder elsewhere`,
  );
}

function refuseSimulated({ dir, manifest: { simulated } }: Clip): void {
  if (!simulated) return;
  throw new Problem(
    'usage',
    `${dir}: this clip is itself simulated (clip.json: simulated), and noise would count twice; start from the recording, ${simulated.from} as seen from there, and ask for wind, rain and light together`,
  );
}

async function swayMeasured(
  clip: Clip,
  from: ClipGiven | undefined,
  camera: Camera,
  seed: string,
  ports: OpenPorts,
) {
  if (from === undefined) return null;
  const [windy] = (await openClips([from], ports)) as [Clip];
  ports.onPhase(`${windy.dir}: measuring how far its foliage sways`);
  return measureSway(clip, windy, camera, seed, ports.cache);
}

/** The clip to measure noise on. */
async function noiseClip(
  from: ClipGiven | undefined,
  to: Conditions,
  ports: OpenPorts,
): Promise<Clip | undefined> {
  if (from === undefined) return undefined;
  if (to.light === undefined) {
    throw new Problem(
      'usage',
      '--noise-from: noise is put on only where less light is asked for; give --light or --at as well, or leave it out',
    );
  }
  return openNoiseClip(from, ports);
}

/** Light at another time of the clip's place. */
function lightOf(clip: Clip, at: string): { lux: number; how: string[] } {
  if (!z.iso.datetime({ offset: true }).safeParse(at).success) {
    throw new Problem(
      'usage',
      `--at: expected an RFC 3339 time with a zone, such as 2026-05-04T21:10:00+01:00, found ${quoted(at)}`,
    );
  }
  const { place, start, conditions } = clip.manifest;
  if (!place) {
    throw new Problem(
      'bad-field',
      `${clip.dir}/clip.json: place: expected latitude and longitude, which --at needs, found nothing; write them in, or give --light`,
    );
  }
  const time = new Date(at);
  const light = conditions?.light;
  const scaled =
    start && light !== undefined ? lightAt(time, place, { time: new Date(start), light }) : undefined;
  return scaled === undefined
    ? {
        lux: estimateLight(time, place).lux,
        how: ['light in the open, halfway in stops between clear sky and overcast'],
      }
    : { lux: scaled, how: ['shade and cloud as when it was recorded'] };
}
