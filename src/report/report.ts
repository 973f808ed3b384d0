import type { Camera } from '../camera/description.js';
import type { Settings } from '../camera/settings.js';
import type { Clip } from '../clip/open.js';
import type { Diagnosis } from '../diagnose/diagnosis.js';
import type { Polygon } from '../engine/mask.js';
import type { OpenPorts } from '../jobs/ports.js';
import type { CamerasCompared } from '../jobs/tune/cameras-told.js';
import type { SiteResult } from '../jobs/tune.js';
import type { Judged } from '../score/replayed.js';
import { addCounts, scoreOf } from '../score/score.js';
import { nowText, usedBySite, usedText } from '../words/against-now.js';
import { headingOver, siteName, tooManyText, whatToRecord } from '../words/answer.js';
import { sensibleChoices } from '../words/choices.js';
import { endsText } from '../words/dial-ends.js';
import { dialsShown } from '../words/dials-shown.js';
import { explain } from '../words/explain.js';
import type { CheckShown } from './check-section.js';
import { clipShown } from './clip-shown.js';
import { type About, type ClipShown, pictureKinds, type ReportGroup } from './data.js';
import { diagnosisShown } from './diagnosis-shown.js';
import { foliageShown } from './foliage-map.js';
import { reportHtml } from './html.js';
import { offDials } from './off-dials.js';

/** A report does not know whether it was asked for by a command or on a page. */
const FEWER = 'If that is too many to look through, ask for at most so many a day.';

/** Pictures in a whole report, so that it stays small however many clips there are. */
const MOST_PICTURES = 90;
const [LEAST_OF_A_KIND, MOST_OF_A_KIND] = [3, 12];

/** Clips that are shown under one group of settings. */
export interface ReportedGroup {
  /** A mask of its own goes before the labels' one. */
  settings: Settings & { mask?: Polygon[] };
  /** Opened clips; with the times of their triggers where the caller has replayed them already. */
  clips: readonly { clip: Clip; triggers?: readonly number[] }[];
  /** What tuning found; `settings` are then what it recommends. */
  tuned?: SiteResult;
  /** What the spot is called; left out or null: as tuning calls it. */
  site?: string | null;
  /** Left out: that of the report. */
  camera?: Camera;
}

export interface ReportParts {
  /** Left out: made from the cameras' names. */
  title?: string;
  /** Of all groups that name no other. */
  camera: Camera;
  /** One for each site where tuning told them apart. */
  groups: readonly ReportedGroup[];
  /** Hours a day that the camera is out; left out: all day. */
  hoursOut?: number | undefined;
  /** What a diagnosis of these clips under these settings found. */
  diagnosis?: Diagnosis;
  /** What a check of these clips under these settings found. */
  check?: CheckShown;
  /** Several cameras, held against each other on these clips. */
  cameras?: CamerasCompared | undefined;
}

/**
 * A report as one HTML file's text: pictures drawn, figures and words around them.
 * @throws whatever reading the clips throws
 */
export async function reportOf(parts: ReportParts, ports: OpenPorts): Promise<string> {
  const { camera, groups, diagnosis, check } = parts;
  const all = groups.flatMap(({ clips, settings }) => clips.map(({ clip }) => ({ clip, settings })));
  const most = Math.floor(MOST_PICTURES / (pictureKinds.length * Math.max(1, all.length)));
  const perKind = Math.max(LEAST_OF_A_KIND, Math.min(MOST_OF_A_KIND, most));
  const shown: ReportGroup[] = [];
  for (const group of groups) shown.push(await groupShown(group, parts, perKind, ports));
  const diagnosed =
    diagnosis &&
    (await diagnosisShown(
      diagnosis,
      all.map(({ clip }) => clip),
      camera,
      all[0]!.settings,
      perKind,
      ports,
    ));
  const sites = groups.flatMap(({ tuned }) => tuned ?? []);
  const foliage = await foliageShown(groups);
  const camerasBySite = new Map(groups.map((group) => [group.tuned, group.camera ?? camera]));
  const ofAll = ofAllText(sites, (site) => camerasBySite.get(site) ?? camera, parts.hoursOut);
  const names = [...new Set(groups.map((group) => (group.camera ?? camera).name))];
  const about = sites.length > 0 ? 'Settings for' : 'A replay of';
  return reportHtml({
    title: parts.title ?? `${about} ${names.map((name) => `the ${name}`).join(', ')}`,
    camera: names.join(', '),
    groups: shown,
    ...(ofAll.length > 0 && { ofAll }),
    ...(foliage.length > 0 && { foliage }),
    ...(diagnosed && { diagnosis: diagnosed }),
    ...(check && { check }),
    ...(parts.cameras && { cameras: parts.cameras }),
  });
}

async function groupShown(
  { settings, clips, tuned, site, camera: own }: ReportedGroup,
  { camera: common, groups, diagnosis, hoursOut }: ReportParts,
  perKind: number,
  ports: OpenPorts,
): Promise<ReportGroup> {
  const several = groups.length > 1;
  const camera = own ?? common;
  const gathered: { shown: ClipShown; judged: Judged }[] = [];
  for (const { clip, triggers } of clips) {
    ports.onPhase(`${clip.dir}: drawing for the report`);
    gathered.push(await clipShown(clip, triggers, { camera, settings, diagnosis, perKind }, ports));
  }
  const counts = gathered.flatMap(({ judged }) => (judged.counts ? [judged.counts] : []));
  return {
    site: several ? (tuned ? siteName(tuned) : (site ?? null)) : null,
    settings,
    dials: dialsShown(camera, settings),
    offDials: offDials(camera, settings),
    about: tuned
      ? tunedAbout(tuned, camera, several, hoursOut)
      : { kind: 'replay', score: counts.length > 0 ? scoreOf(addCounts(counts)) : null },
    clips: gathered.map(({ shown }) => shown),
  };
}

/** What is said of a site's settings; what holds for all of several sites is not said here. */
function tunedAbout(
  tuned: SiteResult,
  camera: Camera,
  several: boolean,
  hoursOut: number | undefined,
): About {
  const tooFew = tuned.tells === 'too little';
  const ends = endsText([tuned]);
  const tooMany = several ? null : tooManyText([tuned], () => camera, FEWER, hoursOut);
  return {
    kind: 'tune',
    result: tuned,
    heading: headingOver(tuned, camera),
    words: [
      ...(tooFew ? [whatToRecord(tuned)] : []),
      ...(ends ? [ends] : []),
      ...(tooMany ? [tooMany] : []),
      `${several ? `Against ${tuned.now.assumed ? 'the dials at middle' : 'what you use now'}: ` : `${usedText(tuned.now)} `}${nowText(tuned, camera)}`,
      ...(tooFew ? [] : explain(tuned)),
    ],
    choices: tooFew ? sensibleChoices(tuned, camera) : [],
  };
}

/** What is said once of several sites: what they are held against, and what to do about too many photos. */
function ofAllText(
  sites: readonly SiteResult[],
  cameraOf: (site: SiteResult) => Camera,
  hoursOut: number | undefined,
): string[] {
  if (sites.length < 2) return [];
  const tooMany = tooManyText(sites, cameraOf, FEWER, hoursOut);
  return [...usedBySite(sites), ...(tooMany ? [tooMany] : [])];
}
