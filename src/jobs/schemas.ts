import { z } from 'zod';
import { hint, Problem } from '../base/problem.js';

/** The schema of a file that people write, or of a document that --json prints. */
export interface SchemaListed {
  name: string;
  kind: 'file' | 'document';
  /** What it is the schema of, as people know it. */
  title: string;
  /** What that is for; a few words. */
  about: string;
}

interface Entry extends Omit<SchemaListed, 'name'> {
  /** Loaded only where it is asked for. */
  load(): Promise<z.ZodType>;
  /** Whole files that ship. */
  examples?: () => Promise<object[]>;
}

const file = (title: string, about: string, load: Entry['load']): Entry => ({
  kind: 'file',
  title,
  about,
  load,
});
/** @param verb as it is typed */
const document = (verb: string, about: string, load: Entry['load']): Entry => ({
  kind: 'document',
  title: `perchmark ${verb} --json`,
  about,
  load,
});

const entries: Readonly<Record<string, Entry>> = {
  clip: file(
    'clip.json',
    'what a recording is',
    async () => (await import('../clip/manifest.js')).manifestSchema,
  ),
  labels: file(
    'labels.json',
    'when animals were in view',
    async () => (await import('../score/labels.js')).labelsSchema,
  ),
  camera: {
    ...file(
      'camera.json',
      'what decides when a camera fires',
      async () => (await import('../camera/description.js')).cameraSchema,
    ),
    examples: camerasThatShip,
  },
  settings: file(
    'settings.json',
    'one group of settings',
    async () => (await import('../camera/settings.js')).settingsSchema,
  ),
  project: file(
    'perchmark.json',
    'the spots of a project, and what belongs to them',
    async () => (await import('../files/project.js')).projectSchema,
  ),
  suite: file(
    'suite.json',
    'what is checked, and what must hold',
    async () => (await import('../check/suite.js')).suiteSchema,
  ),
  accepted: file(
    'suite.accepted.json',
    'what a suite gave when somebody last accepted it, and why',
    async () => (await import('../check/accepted.js')).acceptedSchema,
  ),
  scene: file(
    'a scene file',
    'a garden to be drawn',
    async () => (await import('../scene/spec.js')).sceneSpec,
  ),
  replay: document(
    'replay',
    'triggers, verdicts and scores',
    async () => (await import('./documents/replay.js')).replaySchema,
  ),
  tune: document(
    'tune',
    'the settings recommended, and what they rest on',
    async () => (await import('./documents/tune.js')).tuneSchema,
  ),
  diagnose: document(
    'diagnose',
    'causes of false triggers, missed visits, cures',
    async () => (await import('./documents/diagnose.js')).diagnoseSchema,
  ),
  check: document(
    'check',
    'what is other than it was, and what that means',
    async () => (await import('./documents/check.js')).checkSchema,
  ),
  weather: document(
    'weather',
    'the clip that was made',
    async () => (await import('./documents/weather.js')).weatherSchema,
  ),
  plan: document(
    'plan',
    'which settings when, by a forecast',
    async () => (await import('./documents/plan.js')).planSchema,
  ),
  fit: document(
    'fit',
    'which camera explains when a real one fired',
    async () => (await import('./documents/fit.js')).fitSchema,
  ),
  budget: document(
    'budget',
    'how long battery and card last',
    async () => (await import('./documents/budget.js')).budgetSchema,
  ),
  size: document(
    'size',
    'how large an animal looks',
    async () => (await import('./documents/size.js')).sizeSchema,
  ),
  evening: document(
    'evening',
    'what the photos show, and whether it is as promised',
    async () => (await import('./documents/evening.js')).eveningSchema,
  ),
  'labels-export': document(
    'labels export',
    'the files that were written in an open format',
    async () => (await import('./documents/labels.js')).labelsExportSchema,
  ),
  'labels-import': document(
    'labels import',
    'the labels that were read from an open format',
    async () => (await import('./documents/labels.js')).labelsImportSchema,
  ),
  kept: document(
    'kept',
    'what is kept between runs, and how much of it may be',
    async () => (await import('./documents/kept.js')).keptSchema,
  ),
  'fleet-submit': document(
    'fleet submit',
    'what was put into the queue',
    async () => (await import('./documents/fleet.js')).submitSchema,
  ),
  'fleet-work': document(
    'fleet work',
    'what a worker did',
    async () => (await import('./documents/fleet.js')).workSchema,
  ),
  'fleet-status': document(
    'fleet status',
    'what is left, and what changed at each site',
    async () => (await import('./documents/fleet.js')).statusSchema,
  ),
  add: document('add', 'the clip that was made', async () => (await import('./documents/add.js')).addSchema),
  completion: document(
    'completion',
    'a script for a shell',
    async () => (await import('./documents/completion.js')).completionSchema,
  ),
  open: document(
    'open',
    'where the workbench is',
    async () => (await import('./documents/open.js')).openSchema,
  ),
};

/** All schemas there are, files before documents. */
export const schemasListed: readonly SchemaListed[] = Object.entries(entries).map(
  ([name, { kind, title, about }]) => ({ name, kind, title, about }),
);

/**
 * The zod schema of that name, by which what is read is checked.
 * @throws Problem 'usage' for a name that is none
 */
export async function schemaNamed(name: string): Promise<z.ZodType> {
  return entryNamed(name).load();
}

/**
 * The JSON Schema (draft 2020-12) of that name: of a file as people may write it, of a document as it is printed. Some
 * of what the program checks a file for no JSON Schema can say.
 * @throws Problem 'usage' for a name that is none
 */
export async function jsonSchemaNamed(name: string): Promise<object> {
  const { kind, title, about, load, examples } = entryNamed(name);
  const io = kind === 'file' ? 'input' : 'output';
  const { $schema, ...schema } = z.toJSONSchema(await load(), { io, override: tidy });
  const ofAnyFile = { $schema: { type: 'string', description: 'the JSON Schema of this file, for editors' } };
  return {
    $schema,
    title,
    description: about,
    ...schema,
    properties: kind === 'file' ? { ...ofAnyFile, ...schema.properties } : schema.properties,
    ...(examples && { examples: await examples() }),
  };
}

/** Each as it stands in its file, which says nothing that it could leave out. */
async function camerasThatShip(): Promise<object[]> {
  const { shippedCameras, shippedFile } = await import('../files/shipped-cameras.js');
  const { readJson } = await import('../files/read-json.js');
  const anything = z.record(z.string(), z.unknown());
  return Promise.all(shippedCameras.map((name) => readJson(shippedFile(name), anything, 'a camera')));
}

function entryNamed(name: string): Entry {
  if (Object.hasOwn(entries, name)) return entries[name]!;
  const names = Object.keys(entries);
  throw new Problem(
    'usage',
    `schema: expected one of ${names.join(', ')}, found '${name}'${hint(name, names)}`,
  );
}

/** What JavaScript can count to is no bound worth telling. */
function tidy({ jsonSchema }: { jsonSchema: z.core.JSONSchema.BaseSchema }): void {
  if (jsonSchema.maximum === Number.MAX_SAFE_INTEGER) delete jsonSchema.maximum;
  if (jsonSchema.minimum === Number.MIN_SAFE_INTEGER) delete jsonSchema.minimum;
}
