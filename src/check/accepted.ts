import { stat } from 'node:fs/promises';
import { z } from 'zod';
import { cameraSchema } from '../camera/description.js';
import type { Settings } from '../camera/settings.js';
import { replaceOwn } from '../files/output.js';
import { readJson } from '../files/read-json.js';
import type { BrokenLimit } from './limits.js';
import { type Results, settingsPart } from './results.js';

const key = z.string().regex(/^[0-9a-f]{64}$/, 'a key of 64 hexadecimal digits');
const number = z.number();
const seconds = z.number().min(0);
const { analysis, reference, area, shutterLag, burst } = cameraSchema.shape;

/** NAME.accepted.json: what a suite gave when somebody last accepted it, and why. */
const acceptedSchema = z.strictObject({
  version: z.literal(1),
  why: z.string().min(1),
  engine: z.int(),
  camera: z.strictObject({ key, name: z.string(), analysis, reference, area, shutterLag, burst }),
  settings: z.preprocess(
    renamed,
    z.strictObject({
      key,
      threshold: number,
      minimumArea: number,
      mostChanged: number,
      persistence: number,
      cooldown: number,
      mask: z.array(z.array(z.tuple([number, number]))).optional(),
    }),
  ),
  brokenLimits: z.array(
    z.strictObject({
      clip: z.string().nullable(),
      limit: z.enum(['recall', 'falsePerHour']),
      bound: number,
      value: number,
    }),
  ),
  clips: z.array(
    z.strictObject({
      clip: z.string(),
      pictures: key,
      times: key,
      labels: key,
      mask: key.nullable(),
      visits: z
        .array(
          z.strictObject({ start: seconds, end: seconds, name: z.string().optional(), caught: z.boolean() }),
        )
        .refine((visits) => rises(visits.map(({ start }) => start)), 'visits in order of start'),
      triggers: z
        .array(z.strictObject({ time: seconds, verdict: z.enum(['true', 'false', 'ignored']) }))
        .refine((triggers) => rises(triggers.map(({ time }) => time)), 'triggers in order of time'),
    }),
  ),
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
  const { version: _, settings, ...accepted } = await readJson(file, acceptedSchema, 'accepted results');
  const { mask, ...values } = settings;
  return { ...accepted, settings: { ...values, ...(mask && { mask }) } };
}

/** Writes accepted results, whole or not at all. */
export async function writeAccepted(file: string, accepted: Accepted): Promise<void> {
  await replaceOwn(file, acceptedText(accepted));
}

/**
 * Accepted results as a file that people read and version control compares: clips by name, one visit or trigger a line,
 * times as exact as they are. No date: the same results give the same bytes.
 */
export function acceptedText({ why, engine, camera, settings, brokenLimits, clips }: Accepted): string {
  const sorted = [...clips].sort((a, b) => (a.clip < b.clip ? -1 : 1));
  const file: z.input<typeof acceptedSchema> = {
    version: 1,
    why,
    engine,
    camera,
    settings,
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
