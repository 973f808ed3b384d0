import type { Outgoing } from '../format.js';
import { momentOf, wholeSecond } from '../moment.js';
import { recordingId } from '../recording.js';
import { scientificNameOf } from './observations.js';
import { PROFILE, schemaOf, type TableName } from './tables.js';

/** What this program keeps in the descriptor for itself, under its own name, as a data package may hold more than its profile says. */
export const OWN = 'perchmark';

/** What the tables have no place for at all. */
export type Own = Pick<Outgoing['labels'], 'mask' | 'foliage'>;

/**
 * datapackage.json: a Frictionless data package by the profile of Camtrap DP 1.0.2. Which properties the profile wants, and the
 * words of `samplingDesign`, are from memory.
 */
export function descriptorOf(
  labels: Outgoing & { start: string; place: NonNullable<Outgoing['place']> },
  observationLevels: readonly string[],
): object {
  const { clip, name, start, place, contributor, now } = labels;
  const { mask, foliage } = labels.labels;
  const from = momentOf(start, 'start');
  const scientific = labels.labels.visits.flatMap((visit) => scientificNameOf(labels, visit) ?? []);
  const title = clip.manifest.title ?? name;
  return {
    profile: PROFILE,
    name: nameOf(name),
    id: recordingId(clip.contentKey),
    title,
    created: now.toISOString().replace(/\.\d+Z$/, 'Z'),
    contributors: [{ title: contributor ?? 'not named', role: 'contributor' }],
    project: {
      title,
      samplingDesign: 'opportunistic',
      captureMethod: ['timeLapse'],
      individualAnimals: false,
      observationLevel: observationLevels,
    },
    spatial: { type: 'Point', coordinates: [place.longitude, place.latitude] },
    temporal: {
      start: wholeSecond(from, 0, 'down').slice(0, 10),
      end: wholeSecond(from, clip.seconds, 'up').slice(0, 10),
    },
    taxonomic: [...new Set(scientific)].sort().map((scientificName) => ({ scientificName })),
    resources: [resource('deployments'), resource('media'), resource('observations')],
    ...((mask || foliage) && { [OWN]: { ...(mask && { mask }), ...(foliage && { foliage }) } satisfies Own }),
  };
}

function resource(name: TableName): object {
  return {
    name,
    path: `${name}.csv`,
    profile: 'tabular-data-resource',
    format: 'csv',
    mediatype: 'text/csv',
    encoding: 'utf-8',
    dialect: { delimiter: ',', quoteChar: '"', doubleQuote: true, header: true },
    schema: schemaOf(name),
  };
}

/** A name of a data package: small letters, figures and what parts them. */
function nameOf(name: string): string {
  const plain = name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9._-]+/g, '-');
  return plain.replace(/^[-.]+|[-.]+$/g, '') || 'clip';
}
