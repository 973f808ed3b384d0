import { plural } from '../../../base/figures.js';
import { Problem } from '../../../base/problem.js';
import { gapWarning } from '../../gaps.js';
import { WHOLE_SECONDS } from '../../times.js';
import type { Outgoing, Written } from '../format.js';
import { type Moment, momentOf, wholeSecond } from '../moment.js';
import { recordingId } from '../recording.js';
import { csvOf, isFormula } from './csv.js';
import { descriptorOf } from './descriptor.js';
import { mediaRows } from './media.js';
import { notHeldBy } from './not-held.js';
import { observationRows } from './observations.js';
import {
  type DeploymentRow,
  deploymentColumns,
  mediaColumns,
  type ObservationRow,
  observationColumns,
} from './tables.js';
import { tagsText } from './tags.js';

/** One clip as a package of its own: one deployment, its media, and its labels as observations at the level of events. */
export function writeCamtrap(labels: Outgoing): Written {
  const { clip } = labels;
  const known = withRequired(labels);
  const observations = [...observationRows(known)];
  // All at once, so that a name that the standard has no place for is refused before anything is written.
  const media = [...mediaRows(known)];
  const deployment = deploymentRow(known);
  const levels = [...new Set(observations.map(({ observationLevel }) => observationLevel!))].sort();
  const descriptor = descriptorOf(known, levels.length > 0 ? levels : ['event']);
  return {
    files: [
      { name: 'datapackage.json', pieces: () => [`${JSON.stringify(descriptor, null, 2)}\n`] },
      { name: 'deployments.csv', pieces: () => csvOf(deploymentColumns, [deployment]) },
      { name: 'media.csv', pieces: () => csvOf(mediaColumns, media) },
      { name: 'observations.csv', pieces: () => csvOf(observationColumns, observations) },
    ],
    notHeld: notHeldBy(known),
    notes: [
      ...(labels.contributor === null
        ? ['who labelled is not named in the package; --contributor NAME does']
        : []),
      ...formulaNote(deployment, observations),
      ...(isDrawn(clip) ? ['the clip is drawn, and its pictures are not in the package'] : []),
    ],
  };
}

type Known = Outgoing & { start: string; place: NonNullable<Outgoing['place']> };

/** @throws Problem where a field that must be filled cannot be */
function withRequired(labels: Outgoing): Known {
  const { start, place, clip } = labels;
  const missing = [
    ...(start === null ? ['when it began ("start" in clip.json, or --start 2026-05-04T06:10:00+01:00)'] : []),
    ...(place === null ? ['where ("place" in clip.json, or --place LATITUDE,LONGITUDE)'] : []),
  ];
  if (start !== null && place !== null) return { ...labels, start, place };
  throw new Problem(
    'usage',
    `${clip.dir}: Camtrap DP must say of a recording ${missing.join(' and ')}, and nothing does; add it`,
  );
}

function deploymentRow({ clip, labels, start, place, cooldown }: Known): DeploymentRow {
  const from: Moment = momentOf(start, 'start');
  const { site, scene, title } = clip.manifest;
  const reviewed = labels.reviewed?.map((s) => `${s.start}..${s.end}`).join(' ') ?? 'all';
  return {
    deploymentID: recordingId(clip.contentKey),
    ...(site !== undefined && { locationName: site }),
    latitude: String(place.latitude),
    longitude: String(place.longitude),
    deploymentStart: wholeSecond(from, 0, 'down'),
    deploymentEnd: wholeSecond(from, clip.seconds, 'up'),
    ...(cooldown !== null && { cameraDelay: String(Math.round(cooldown)) }),
    ...(scene?.height !== undefined && { cameraHeight: String(scene.height) }),
    timestampIssues: String(areTimesDoubtful(clip)),
    deploymentTags: tagsText([
      ['perchmark', 'deployment'],
      ['reviewed', reviewed],
      ...(isDrawn(clip) ? ([['drawn', 'scene']] as const) : []),
      ...(clip.manifest.simulated ? ([['simulated', 'weather']] as const) : []),
    ]),
    ...(title !== undefined && { deploymentComments: title }),
  };
}

function isDrawn({ dir }: Outgoing['clip']): boolean {
  return dir.endsWith('.json');
}

/** Frames were spread over whole seconds, or there are long gaps between them. */
function areTimesDoubtful({ warnings, times, seconds }: Outgoing['clip']): boolean {
  return warnings.some((line) => line.includes(WHOLE_SECONDS)) || gapWarning(times, seconds, null) !== null;
}

/** Cells stay as the standard has them; whoever opens them in a spreadsheet is told. */
function formulaNote(deployment: DeploymentRow, observations: readonly ObservationRow[]): string[] {
  const texts = [
    deployment.locationName,
    deployment.deploymentComments,
    ...observations.flatMap(({ scientificName, classifiedBy }) => [scientificName, classifiedBy]),
  ];
  const found = texts.filter((text) => text !== undefined && isFormula(text)).length;
  return found === 0
    ? []
    : [
        `${plural(found, 'cell')} of text ${found === 1 ? 'begins' : 'begin'} with =, +, - or @, which a spreadsheet may take for a formula: bring the tables in as text`,
      ];
}
