import { stat } from 'node:fs/promises';
import { z } from 'zod';
import { cameraSchema } from '../camera/description.js';
import type { Settings } from '../camera/settings.js';
import { replaceOwn } from '../files/output.js';
import { readJson } from '../files/read-json.js';
import type { BrokenLimit } from './limits.js';
import { type Results, settingsPart } from './results.js';

const key = z
  .string()
  .regex(/^[0-9a-f]{64}$/, 'a key of 64 hexadecimal digits')
  .describe('a key of what results follow from');
const number = z.number();
const seconds = z.number().min(0).describe("from the clip's start");
const clip = z.string().describe('its name in the suite');
const { analysis, reference, area, shutterLag, burst } = cameraSchema.shape;
const name = z.string().describe('what output calls it');

const visits = z
  .array(
    z.strictObject({
      start: seconds,
      end: seconds,
      name: z.string().optional().describe('such as the species'),
      caught: z.boolean().describe('whether a photo was taken of it'),
    }),
  )
  .refine((visits) => rises(visits.map(({ start }) => start)), 'visits in order of start');
const triggers = z
  .array(
    z.strictObject({ time: seconds, verdict: z.enum(['true', 'false', 'ignored']).describe('what it was') }),
  )
  .refine((triggers) => rises(triggers.map(({ time }) => time)), 'triggers in order of time');

/** NAME.accepted.json: what a suite gave when somebody last accepted it, and why. */
export const acceptedSchema = z.strictObject({
  version: z.literal(1).describe('of this format'),
  why: z.string().min(1).describe('why they were accepted'),
  engine: z.int().describe('the version of what the engine computes'),
  camera: z
    .strictObject({ key, name, analysis, reference, area, shutterLag, burst })
    .describe('what decides when it fires'),
  settings: z
    .preprocess(
      renamed,
      z.strictObject({
        key,
        threshold: number.describe('grey levels'),
        minimumArea: number.describe('pixels'),
        mostChanged: number.describe('pixels'),
        persistence: number.describe('analysed frames'),
        cooldown: number.describe('seconds'),
        mask: z
          .array(z.array(z.tuple([number, number])))
          .optional()
          .describe("polygons not watched, instead of those of the clips' labels"),
      }),
    )
    .describe('engine values'),
  firedBy: z
    .strictObject({
      command: z.string().min(1).describe('its command line'),
      fullSize: z.boolean().describe("whether its frames kept the clip's own pixel size"),
    })
    .optional()
    .describe("a program of the user's that fired; left out: the camera's description, replayed"),
  brokenLimits: z
    .array(
      z.strictObject({
        clip: clip.nullable().describe('null: all clips together'),
        limit: z.enum(['recall', 'falsePerHour']).describe('the limit'),
        bound: number.describe('what is asked for'),
        value: number.describe('what it was'),
      }),
    )
    .describe('limits that did not hold when they were accepted'),
  clips: z
    .array(
      z.strictObject({
        clip,
        pictures: key,
        times: key,
        labels: key,
        mask: key.nullable().describe('a key of what was not watched; null: all was'),
        visits: visits.describe('animal visits in order of start'),
        triggers: triggers.describe('in order of time'),
      }),
    )
    .describe('what each clip gave'),
});

/** Results accepted while mostChanged was called maximumArea say the same: the name is mended, and the key with it. */
function renamed(settings: unknown): unknown {
  if (typeof settings !== 'object' || settings === null || !('maximumArea' in settings)) return settings;
  const { key: _, maximumArea, ...rest } = settings as Settings & { key: string; maximumArea: number };
  return settingsPart({ ...rest, mostChanged: maximumArea });
}

function rises(times: readonly number[]): boolean {
  return times.every((time, i) => i === 0 || time >= times[i - 1]!);
}

/** Accepted results, why they were, and the limits that did not hold when they were. */
export interface Accepted extends Results {
  why: string;
  brokenLimits: readonly BrokenLimit[];
}

/** Accepted results, or null where there are none yet. */
export async function readAccepted(file: string): Promise<Accepted | null> {
  const missing = await stat(file).then(
    () => false,
    (error: NodeJS.ErrnoException) => error.code === 'ENOENT',
  );
  if (missing) return null;
  const {
    version: _,
    settings,
    firedBy,
    ...accepted
  } = await readJson(file, acceptedSchema, 'accepted results');
  const { mask, ...values } = settings;
  return { ...accepted, settings: { ...values, ...(mask && { mask }) }, ...(firedBy && { firedBy }) };
}

/** Writes accepted results, whole or not at all. */
export async function writeAccepted(file: string, accepted: Accepted): Promise<void> {
  await replaceOwn(file, acceptedText(accepted));
}

/**
 * Accepted results as a file that people read and version control compares: clips by name, one visit or trigger a line,
 * times as exact as they are. No date: the same results give the same bytes.
 */
export function acceptedText({
  why,
  engine,
  camera,
  settings,
  firedBy,
  brokenLimits,
  clips,
}: Accepted): string {
  const sorted = [...clips].sort((a, b) => (a.clip < b.clip ? -1 : 1));
  const file: z.input<typeof acceptedSchema> = {
    version: 1,
    why,
    engine,
    camera,
    settings,
    ...(firedBy && { firedBy }),
    brokenLimits: [...brokenLimits],
    clips: sorted.map(({ clip, pictures, times, labels, mask, visits, triggers }) => ({
      clip,
      pictures,
      times,
      labels,
      mask,
      visits: visits.map(({ start, end, name, caught }) => ({ start, end, ...(name && { name }), caught })),
      triggers: triggers.map(({ time, verdict }) => ({ time, verdict })),
    })),
  };
  return `${laidOut(file, 0)}\n`;
}

/** From this depth on a value stands on one line: a visit, a trigger, a corner of a mask. */
const ONE_LINE = 4;

function laidOut(value: unknown, depth: number): string {
  if (value === null || typeof value !== 'object') return JSON.stringify(value);
  const [open, close] = Array.isArray(value) ? '[]' : '{}';
  const parts = Array.isArray(value)
    ? value.map((entry) => laidOut(entry, depth + 1))
    : Object.entries(value).map(([name, entry]) => `${JSON.stringify(name)}: ${laidOut(entry, depth + 1)}`);
  if (parts.length === 0) return `${open}${close}`;
  if (depth >= ONE_LINE) {
    return Array.isArray(value) ? `[${parts.join(', ')}]` : `{ ${parts.join(', ')} }`;
  }
  const indent = '  '.repeat(depth);
  return `${open}\n${parts.map((part) => `${indent}  ${part}`).join(',\n')}\n${indent}${close}`;
}
