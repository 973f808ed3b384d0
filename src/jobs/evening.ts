import type { Camera } from '../camera/description.js';
import { type FoundPhoto, photosIn } from '../clip/photo-folder.js';
import type { Between } from '../outing/between.js';
import { type HoursOut, hoursIn, hoursOut, type Outing } from '../outing/evening/hours-out.js';
import { hoursToTell } from '../outing/evening/hours-to-tell.js';
import { type RecordNext, recordNext } from '../outing/evening/next.js';
import {
  byConditions,
  nothingIn,
  type Part,
  type PartTold,
  partsByHour,
  partsByStretch,
  partTold,
} from '../outing/evening/parts.js';
import { type Seen, timedIn } from '../outing/evening/photo.js';
import { type PromisedPart, promisedPerHour } from '../outing/evening/promise.js';
import { type Tally, tallyOf } from '../outing/evening/tally.js';
import { nothingRate, type Verdict, verdictWith } from '../outing/evening/verdict.js';
import { BOUT, boutsOf } from '../score/bouts.js';
import { scatterOfBouts } from '../score/by-bouts.js';
import type { Rate } from '../score/intervals.js';
import { momentOf } from './evening/clock.js';
import { readMarks } from './evening/marks.js';
import { type PromisedFile, readPromised } from './evening/promised.js';
import { type CameraGiven, openCamera } from './open.js';
import { openPorts, type Ports } from './ports.js';

export { marksCsv } from './evening/marks.js';

export interface EveningInput {
  /** The folder that the photos were copied into. */
  folder: string;
  /** A CSV file of what was seen in them; left out: nobody has looked yet. */
  marks?: string | undefined;
  /** What `tune --json` or `plan --json` printed, and which of its sites where it has several. */
  promised?: { file: string; site?: string | undefined } | undefined;
  /** For how many photos it takes a trigger; left out: the default camera. */
  camera?: CameraGiven | undefined;
  /** When the camera was out, by its own clock: "2026-05-09 06:30", or 06:30 on the day of the first and the last photo. */
  from?: string | undefined;
  until?: string | undefined;
}

/** A photo and what somebody saw in it. */
export interface SeenPhoto extends FoundPhoto {
  seen: Seen | null;
}

/** Weather, as a plan foretold it, and what came in its hours. */
export interface ConditionTold extends Tally {
  conditions: string;
  hours: number;
  nothingPerHour: Rate | null;
}

/** What was promised for the hours out. */
export interface PromiseTold {
  kind: PromisedFile['kind'];
  site: string | null;
  /** Photos of nothing an hour, 90 %; null: nothing was promised for these hours. */
  nothingPerHour: Between | null;
  /** Photos of nothing an hour in those hours for which something was promised, the 90 % by bouts; null for none. */
  came: Rate | null;
  /** About how many hours out would tell, were it as promised; null: it is told already, or a month would not. */
  hoursToTell: number | null;
  /** Photos in those hours that may be of nothing, for nobody has marked them or their time is not known. */
  untold: number;
  /** Hours out for which something was promised, and for which nothing was. */
  hours: number;
  hoursWithout: number;
}

export interface EveningResult extends Tally {
  folder: string;
  /** All photos, in order of time; those without one last. */
  all: readonly SeenPhoto[];
  /** Photos whose time nothing tells. */
  withoutTime: number;
  /** Photos before or after the hours that were given, which count nowhere. */
  outside: number;
  /** Null where no two photos tell how long the camera was out. */
  out: (HoursOut & { hours: number }) | null;
  /** Over all hours out. */
  nothingPerHour: Rate | null;
  byHour: readonly PartTold[];
  /** By the stretches of a plan; null without one. */
  byStretch: readonly PartTold[] | null;
  byCondition: readonly ConditionTold[] | null;
  promised: PromiseTold | null;
  /** Null where no promise was given. */
  verdict: Verdict | null;
  next: RecordNext | null;
  /** What stood in for what nobody said. */
  assumed: string[];
  notes: string[];
}

/**
 * The evening's real photos: how many show animals, nothing and people, by hour and by weather, and whether photos of nothing
 * came as often as was promised. The photos are read and never changed.
 * @throws Problem for anything wrong with what was given; the signal's reason when aborted
 */
export async function evening(input: EveningInput, ports: Ports = {}): Promise<EveningResult> {
  const { folder, marks: file } = input;
  const { onPhase, onProgress, onWarning, signal } = await openPorts(ports);
  const camera = await openCamera(input.camera);
  const promised = input.promised
    ? await readPromised(input.promised.file, input.promised.site, camera.burst.photos)
    : null;
  onPhase(`${folder}: looking for photos`);
  const { photos, leftOut, wentBack } = await photosIn(folder, { onProgress, signal });
  for (const line of leftOut) onWarning(line);
  const marks = file === undefined ? new Map<string, Seen>() : await readMarks(file, photos, onWarning);
  const all = photos.map((photo) => ({ ...photo, seen: marks.get(photo.name) ?? null }));
  const timed = timedIn(all);
  const given = {
    from: input.from === undefined ? undefined : momentOf('--from', input.from, timed[0]?.time ?? null),
    until:
      input.until === undefined ? undefined : momentOf('--until', input.until, timed.at(-1)?.time ?? null),
  };
  const outing = hoursOut(timed, given);
  const within = outing ? [...outing.photos, ...all.filter(({ time }) => time === null)] : all;
  const told = toldOf(outing, within, promised);
  const tally = tallyOf(within);
  const withoutTime = all.length - timed.length;
  return {
    folder,
    all,
    ...tally,
    withoutTime,
    outside: all.length - within.length,
    out: outing && { ...outing.out, hours: hoursIn(outing.out) },
    ...told,
    assumed: assumptions(outing?.out ?? null, promised, input, camera),
    notes: [
      ...(wentBack
        ? [
            `The camera's clock went back ${wentBack.times === 1 ? 'once' : `${wentBack.times} times`}, first at ${wentBack.first}: hours, and whatever is told an hour, are by what the photos say and may be wrong.`,
          ]
        : []),
      ...(withoutTime > 0
        ? [
            `${withoutTime} of ${all.length} photos tell no time, neither by EXIF nor by name, or were taken by a clock that was not set: they count in the whole, not by hour.`,
          ]
        : []),
      ...(outing && hoursIn(outing.out) > LONG
        ? [
            `From the first photo to the last it is ${Math.round(hoursIn(outing.out) / 24)} days: were the camera not out all that time, --from and --until say when, or give each day's folder by itself.`,
          ]
        : []),
    ],
  };
}

/** Hours: longer than anybody calls an evening. */
const LONG = 72;

type Told = Pick<
  EveningResult,
  'nothingPerHour' | 'byHour' | 'byStretch' | 'byCondition' | 'promised' | 'verdict' | 'next'
>;

function toldOf(
  outing: Outing<SeenPhoto & { time: number }> | null,
  within: readonly SeenPhoto[],
  promised: PromisedFile | null,
): Told {
  const stretches = promised?.stretches ?? [];
  const hours = outing ? partsByHour(outing, promised?.kind === 'tune' ? stretches : []) : [];
  const planned = outing && promised?.kind === 'plan' ? partsByStretch(outing, stretches) : null;
  const parts: readonly Part[] = planned ?? hours;
  const byHour = hours.map(partTold);
  const byStretch = planned?.map(partTold) ?? null;
  return {
    nothingPerHour: outing && nothingRate(nothingIn(outing), hoursIn(outing.out)),
    byHour,
    byStretch,
    byCondition: planned && byConditions(planned).map(conditionTold),
    ...(promised ? judged(promised, parts, within) : { promised: null, verdict: null }),
    next: recordNext(byStretch ?? byHour),
  };
}

function conditionTold({ conditions, part }: { conditions: string; part: Part }): ConditionTold {
  const { hours, photos } = part;
  return { conditions, hours, ...tallyOf(photos), nothingPerHour: nothingRate(nothingIn(part), hours) };
}

function judged(
  { kind, site }: PromisedFile,
  parts: readonly Part[],
  within: readonly SeenPhoto[],
): { promised: PromiseTold; verdict: Verdict } {
  const with_ = parts.filter((part): part is Part & { promised: PromisedPart } => part.promised !== null);
  const promises = with_.map((part) => part.promised);
  // Where a photo's time is not known it may belong to these hours, and stand alone there.
  const astray = within.filter(({ time, seen }) => time === null && (seen === null || seen === 'nothing'));
  const alone = astray.map((_, i) => -2 * BOUT * (i + 1));
  const came = with_.map((part, i) => ({
    times: nothingIn(part),
    untold: [
      ...part.counted.filter(({ seen }) => seen === null).map(({ time }) => time),
      ...(i === 0 ? alone : []),
    ],
    promised: part.promised,
  }));
  const nothing = came.flatMap(({ times }) => times).sort((a, b) => a - b);
  const untold = came.flatMap((part) => part.untold);
  const sum = (of: readonly Part[]) => of.reduce((total, { hours }) => total + hours, 0);
  const hours = sum(with_);
  const perHour = promisedPerHour(promises);
  // Tuning promises a rate all in all, a plan one for each stretch.
  const verdict = verdictWith(
    kind === 'plan'
      ? came
      : came.length === 0
        ? []
        : [{ times: nothing, untold, promised: { hours, perHour: promises[0]!.perHour } }],
  );
  const open = verdict === 'too little to tell' && untold.length === 0 && perHour !== null;
  return {
    promised: {
      kind,
      site,
      nothingPerHour: perHour,
      hoursToTell: open ? hoursToTell(perHour, scatterOfBouts(nothing.length, boutsOf(nothing))) : null,
      untold: untold.length,
      came: nothingRate(nothing, hours),
      hours,
      hoursWithout: Math.max(0, sum(parts) - hours),
    },
    verdict,
  };
}

function assumptions(
  out: HoursOut | null,
  promised: PromisedFile | null,
  { camera: given }: EveningInput,
  camera: Camera,
): string[] {
  const ends = out ? [...(out.said.from ? [] : ['first']), ...(out.said.until ? [] : ['last'])] : [];
  const option = { first: '--from', last: '--until' } as Record<string, string>;
  return [
    ...(ends.length > 0
      ? [
          `hours out: ${ends.length === 2 ? 'from the first photo to the last' : ends[0] === 'first' ? 'from the first photo on' : 'until the last photo'}, though the camera may have been out longer without firing; the photos at ${ends.length === 2 ? 'both ends mark' : 'that end mark'} them and do not count in photos an hour (${ends.map((end) => option[end]).join(' and ')} ${ends.length === 2 ? 'say' : 'says'} better)`,
        ]
      : []),
    ...(promised?.nothing ? [`nothing was promised: ${promised.nothing}`] : []),
    ...(promised
      ? [
          `${camera.burst.photos === 1 ? '1 photo' : `${camera.burst.photos} photos`} a trigger, as the ${camera.name} takes${given === undefined ? ' (--camera says otherwise)' : ''}`,
          'time in which animals or people were in view is not taken off the hours, as it is where a rate is promised',
        ]
      : []),
    ...(promised?.kind === 'plan' ? ["the camera's clock shows the local time that the plan is in"] : []),
  ];
}

/** What was written where; null: not asked for. */
export interface EveningWritten {
  sheet: string | null;
  marks: string | null;
  report: string | null;
}

/** The document of `evening --json`. No photo is named in it. */
export function eveningDocument({ folder, all, ...told }: EveningResult, written: EveningWritten) {
  const moment = (time: number) => new Date(time * 1000).toISOString().slice(0, 19);
  const part = ({ from, until, more, ...rest }: PartTold) => ({
    from: moment(from),
    until: moment(until),
    ...rest,
    chance: more,
  });
  return {
    ...told,
    out: told.out && { ...told.out, from: moment(told.out.from), until: moment(told.out.until) },
    byHour: told.byHour.map(part),
    byStretch: told.byStretch?.map(part) ?? null,
    next: told.next && { ...told.next, from: moment(told.next.from), until: moment(told.next.until) },
    files: { folder, found: all.length, ...written },
  };
}
