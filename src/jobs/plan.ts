import { Problem } from '../base/problem.js';
import type { ResolvedSettings } from '../camera/settings.js';
import { needLabels } from '../clip/labelled.js';
import type { Forecast } from '../plan/forecast.js';
import { HOUR_MS } from '../plan/hours.js';
import { hourOfDay, later, rfc3339 } from '../plan/instant.js';
import { gridFor } from '../sweep/for-camera.js';
import { type CameraGiven, type ClipGiven, noteCoarseClips, openClips, openTunable } from './open.js';
import { readForecast } from './plan/read-forecast.js';
import type { Awake, PlanResult, SitePlan } from './plan/result.js';
import { planSite } from './plan/site.js';
import { openPorts, type Ports } from './ports.js';
import { groupsOf } from './tune/sweep-site.js';
import { type AllowanceWanted, goalOf, USUAL_WORTH } from './tune/wanted.js';

export type { Awake, DialsPlanned, PlanResult, SitePlan, Stretch } from './plan/result.js';

/** What a walk to a camera costs where nothing is said: as much as that many photos of nothing to look through. */
export const USUAL_WALK = 20;
/** When somebody may walk to a camera where nothing is said, by the forecast's clock. */
export const USUAL_AWAKE: Awake = { from: 7, until: 21 };

export interface PlanInput {
  /** With labels. Clips of different sites (clip.json: site) are planned apart. */
  clips: readonly ClipGiven[];
  camera?: CameraGiven;
  /** A CSV file, or one that was read. */
  forecast: string | Forecast;
  /**
   * What may be in any hour, as in tuning: then as many visits as are to be had within it, and what a visit is worth counts
   * against walks alone. Left out: whatever is worth most.
   */
  allowance?: AllowanceWanted | undefined;
  /** Photos of nothing that one more visit is worth looking through; 10 where left out. */
  worth?: number | undefined;
  /** Photos of nothing that a walk to a camera is worth; 20 where left out. */
  walk?: number | undefined;
  /** When somebody may walk to a camera; from 7 to 21 where left out. */
  awake?: Awake | undefined;
  /** Leave out weather that nobody recorded, instead of simulating it. */
  recordedOnly?: boolean | undefined;
  /** What simulated weather follows from; '1' where left out. */
  seed?: string | undefined;
  /** What is used now at all of the sites; left out: nobody said. */
  inUse?: ResolvedSettings | undefined;
  /** The time that a forecast is held against, to tell that it is past; now where left out. */
  now?: Date | undefined;
}

/**
 * Says which settings to use in each of the coming hours, and whether changing them is worth the walks: what is foretold is
 * grouped into kinds of hours, each told by clips recorded in it or by simulated weather.
 * @throws Problem for anything wrong with what was given; the signal's reason when aborted
 */
export async function plan(input: PlanInput, ports: Ports = {}): Promise<PlanResult> {
  const open = await openPorts(ports);
  const forecast = typeof input.forecast === 'string' ? await readForecast(input.forecast) : input.forecast;
  const { worth = USUAL_WORTH, walk = USUAL_WALK, awake = USUAL_AWAKE } = input;
  const camera = await openTunable(input.camera);
  const asked = goalOf(input.allowance ?? { worth }, camera, open);
  for (const note of forecast.notes) open.onWarning(note);
  const end = later(forecast.rows.at(-1)!.at, forecast.step * HOUR_MS);
  if (end.ms <= (input.now ?? new Date()).getTime()) {
    open.onWarning(`The forecast ends at ${rfc3339(end)}, which is past; it is planned all the same`);
  }
  const clips = await openClips(input.clips, open);
  for (const clip of clips) needLabels(clip);
  noteCoarseClips(clips, camera, open);
  const grid = gridFor(camera);
  const sites: SitePlan[] = [];
  for (const [site, group] of groupsOf(clips, false)) {
    sites.push(
      await planSite(
        site,
        group,
        {
          camera,
          grid,
          forecast,
          goal: { ...asked, photos: worth, photosPerTrigger: camera.burst.photos },
          walkCost: walk,
          mayWalk: (at) => isAwake(hourOfDay(at), awake),
          recordedOnly: input.recordedOnly ?? false,
          seed: input.seed ?? '1',
          inUse: input.inUse ?? null,
        },
        open,
      ),
    );
  }
  const { rows, step } = forecast;
  return {
    from: rfc3339(rows[0]!.at),
    to: rfc3339(end),
    hours: rows.length * step,
    worth,
    walk,
    awake,
    sites,
    weather: rows.flatMap(({ at, wind, rain }) =>
      Array.from({ length: step }, (_, i) => ({
        at: rfc3339(later(at, i * HOUR_MS)),
        wind: Number(wind.toFixed(1)),
        rain: rain ?? 0,
      })),
    ),
  };
}

/** The document of `plan --json`. */
export function planDocument(result: PlanResult): PlanResult {
  return result;
}

export function isAwake(hour: number, { from, until }: Awake): boolean {
  return from <= until ? hour >= from && hour < until : hour >= from || hour < until;
}

/** @throws Problem 'usage' for a text that is not like 7-21 */
export function awakeFrom(text: string, option: string): Awake {
  const [, from = '', until = ''] = /^\s*(\d{1,2})\s*-\s*(\d{1,2})\s*$/.exec(text) ?? [];
  const awake = { from: Number(from), until: Number(until) };
  if (from !== '' && awake.from <= 24 && awake.until <= 24 && awake.from !== awake.until) return awake;
  throw new Problem(
    'usage',
    `${option}: expected two hours of the day with a dash between, such as 7-21, found '${text}'`,
  );
}
