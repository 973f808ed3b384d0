import { plural } from '../base/figures.js';
import { Problem } from '../base/problem.js';
import type { Camera } from '../camera/description.js';
import { dialFor, positions, valueAt } from '../camera/dials.js';
import type { Settings } from '../camera/settings.js';
import { busyFor } from '../camera/timing.js';
import { gapsOf } from '../clip/gaps.js';
import type { Clip } from '../clip/open.js';
import type { EquallyGood } from '../fit/choice/as-good.js';
import { type Explained, explain } from '../fit/choice/explained.js';
import type { Told } from '../fit/fired/told.js';
import { toleranceFor } from '../fit/fired/wanted.js';
import { afterPause, FEWEST, isToldApart, whatToRecord } from '../fit/record.js';
import type { Moment } from '../fit/score/agreement.js';
import { rateOf, search } from '../fit/search/course.js';
import type { Known } from '../fit/search/searching.js';
import { settingsOf } from '../fit/search/settings-of.js';
import type { Searched } from '../fit/search/tried.js';
import { type AsGiven, asGiven } from './fit/as-given.js';
import { type FiredGiven, MOST_PHOTOS, toldBy } from './fit/fired-given.js';
import { burstFor, fittedCamera } from './fit/fitted-camera.js';
import { roundSeconds } from './fit/rounded.js';
import {
  type CameraGiven,
  type ClipGiven,
  openCamera,
  openClips,
  openSettings,
  type SettingsGiven,
} from './open.js';
import { openPorts, type Ports } from './ports.js';

export interface FitInput extends FiredGiven {
  clip: ClipGiven;
  /** What the owner knows of the camera, by its file or read; left out: nothing. */
  camera?: CameraGiven;
  /** What its dials stood at meanwhile, with `camera`; left out: they are turned. */
  settings?: SettingsGiven | undefined;
  /** Seconds within which a predicted time is right; left out: by rounding and frames. */
  tolerance?: number | undefined;
}

/** Which camera description explains when a real camera fired. Times in seconds from the clip's start. */
export interface FitResult {
  clip: string;
  camera: Camera;
  settings: Settings;
  /** Told time less time on the clip: shutter lag and what the camera's clock is ahead, together. */
  offset: number;
  /** Seconds an hour that the camera's clock gains on the clip's. */
  drift: number;
  agreement: Explained['agreement'] & { tolerance: number };
  /** When the camera fired and when this description does, in seconds of the clip. */
  moments: Moment[];
  /** Of the clip. */
  seconds: number;
  /** How the camera given does as it stands; null where none was given, or it has no dials to turn. */
  asGiven: AsGiven | null;
  fired: { given: number; triggers: number; onClip: number; afterPause: number; photosEach: number };
  tells: 'enough' | 'too few';
  /** F1 on the last third of the clip, all but its look and rate being chosen by the first two; null as in heldOut. */
  heldOut: number | null;
  equallyGood: EquallyGood[];
  /** Whether these times, enough of them, leave one description that explains them, with hardly more than one threshold, minimum area and cooldown. */
  toldApart: boolean;
  record: string | null;
  assumed: string[];
  notes: string[];
}

/**
 * Finds the description and the settings of a camera that explain when it fired while a clip was recorded.
 * @throws Problem for anything wrong with what was given; the signal's reason when aborted
 */
export async function fit(input: FitInput, ports: Ports = {}): Promise<FitResult> {
  const open = await openPorts(ports);
  mustMakeSense(input);
  const base = input.camera === undefined ? null : await openCamera(input.camera);
  const settings =
    base && input.settings !== undefined ? await openSettings(input.settings, base, open) : null;
  const [clip] = await openClips([input.clip], open);
  if (!clip) throw new RangeError('one clip was opened');
  const { told, name, counted } = await toldBy(input, clip, base, open);
  const known = knownOf(base && { ...base, burst: burstFor(base, told.burst) }, clip);
  const tolerance = toleranceFor(told, known.rate ?? rateOf(clip), input.tolerance);
  open.onPhase(`${clip.dir}: finding its camera`);
  const searched = await search(clip, told, known, tolerance, open);
  const explained = await explain(clip, told, searched);
  if (!explained) {
    throw new Problem(
      'bad-times',
      `${name}: nothing in ${clip.dir} fires at anything like ${told.times.length === 1 ? 'this one time' : `these ${told.times.length} times`}; expected the times at which the camera fired while this clip was recorded`,
    );
  }
  if (base) open.onPhase(`${clip.dir}: firing as ${base.name} would as it is described`);
  const given = base && (await asGiven(clip, told, base, settings, searched, explained.clock, open));
  return resultOf(clip, explained, told, base, searched, given, counted);
}

/** @throws Problem 'usage' for what could be right of no clip */
function mustMakeSense(input: FitInput): void {
  if (input.tolerance !== undefined && !(input.tolerance > 0 && input.tolerance <= 60)) {
    throw new Problem(
      'usage',
      `--tolerance: expected seconds above 0 and up to 60, found ${input.tolerance}`,
    );
  }
  if (
    input.photos !== undefined &&
    !(Number.isInteger(input.photos) && input.photos >= 1 && input.photos <= MOST_PHOTOS)
  ) {
    throw new Problem(
      'usage',
      `--photos: expected how many photos the camera takes at each trigger, a whole number from 1 to ${MOST_PHOTOS}, found ${input.photos}`,
    );
  }
  if (input.settings !== undefined && input.camera === undefined) {
    throw new Problem(
      'usage',
      '--settings: expected together with --camera, because settings belong to one camera; add it or leave both out',
    );
  }
}

function resultOf(
  clip: Clip,
  explained: Explained,
  told: Told,
  base: Camera | null,
  { tried }: Searched,
  given: AsGiven | null,
  counted: readonly string[],
): FitResult {
  const { look, values, mostChanged, clock, agreement, tolerance, fired, equallyGood, heldOut } = explained;
  const { camera, notes } = fittedCamera(explained, base, told.burst);
  const paused = afterPause(fired, values.cooldown, told.quantum + FRAMES_LATE / camera.analysis.rate);
  const tells = Math.min(fired.length, paused) < FEWEST ? 'too few' : 'enough';
  return {
    clip: clip.dir,
    camera,
    settings: { ...settingsOf(look, values), ...(mostChanged !== null && { mostChanged }) },
    offset: roundSeconds(clock.offset),
    drift: roundSeconds(clock.drift * 3600),
    agreement: { ...agreement, tolerance: roundSeconds(tolerance.most) },
    moments: explained.moments.map(({ time, is }) => ({ time: roundSeconds(time), is })),
    seconds: clip.seconds,
    asGiven: given && { ...given, offset: roundSeconds(given.offset) },
    fired: {
      given: told.given,
      triggers: told.times.length,
      onClip: fired.length,
      afterPause: paused,
      photosEach: told.burst?.photos ?? 1,
    },
    tells,
    heldOut,
    equallyGood,
    toldApart: tells === 'enough' && agreement.f1 >= EXPLAINED && isToldApart(equallyGood),
    record: whatToRecord({ equallyGood, fired: fired.length, paused }),
    assumed: told.assumed,
    notes: [
      ...counted,
      ...notesOn(told, fired, clip),
      ...notes,
      `${plural(tried.length, 'description')} were tried; a camera of another make needs its own recording`,
    ],
  };
}

/** F1 from which a description explains the times. */
const EXPLAINED = 0.95;
/** So many frames after its cooldown a camera still counts as firing without a pause. */
const FRAMES_LATE = 2.5;

/** @param fired those on the clip, by the clock that was found */
export function notesOn(
  told: Pick<Told, 'times'>,
  fired: Float64Array,
  { times }: Pick<Clip, 'times'>,
): string[] {
  const of = told.times.length;
  const beside = of - fired.length;
  const gaps = gapsOf(times);
  const within = fired.filter((time) => gaps.some(({ start, end }) => time > start && time < end)).length;
  return [
    ...(beside > 0
      ? [
          `${plural(beside, 'fired time')} of ${of} ${beside === 1 ? 'lies' : 'lie'} before or after the clip, by the clock that was found, and ${beside === 1 ? 'does' : 'do'} not count`,
        ]
      : []),
    ...(within > 0
      ? [
          `${plural(within, 'fired time')} of ${of} ${within === 1 ? 'lies' : 'lie'} in a gap of the clip, where no frame can explain ${within === 1 ? 'it' : 'them'}: ${within === 1 ? 'it counts' : 'they count'} as not explained`,
        ]
      : []),
  ];
}

/** What a description says beforehand: its rate is no guess, for lag and persistence are counted in its frames. */
function knownOf(base: Camera | null, clip: Pick<Clip, 'times' | 'rate'>): Known {
  if (!base) return { size: null, cooldowns: [], busy: 0, rate: null };
  const dial = dialFor(base.controls, 'cooldown')?.[1];
  const { width, height, rate } = base.analysis;
  return {
    size: { width, height },
    cooldowns: dial ? positions(dial).map((position) => valueAt(dial, position)) : [],
    busy: busyFor(base, 0),
    rate: Math.min(rate, rateOf(clip)),
  };
}

/** The document of `fit --json`. */
export function fitDocument({ camera, settings, equallyGood, ...told }: FitResult) {
  return {
    ...told,
    camera,
    settings: { version: 1 as const, ...settings },
    equallyGood: equallyGood.map(({ look, ...values }) => {
      const { width, height, smooth, reference, whileBusy } = look;
      return { width, height, smooth, reference: { ...reference, whileBusy }, ...values };
    }),
  };
}
