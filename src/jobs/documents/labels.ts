import { z } from 'zod';
import { formatNames } from '../../clip/exchange/formats.js';
import type { labelsExportDocument } from '../labels-export.js';
import type { LabelsImportResult } from '../labels-import.js';
import type { Agree } from './agree.js';
import { count, path } from './pieces.js';

const format = z.enum(formatNames).describe('the open format');
const notes = z.array(z.string()).describe('what should be known of it');
const notHeld = z
  .array(
    z.strictObject({
      what: z.string().describe('a few words'),
      count: count.describe('how often'),
      kept: z
        .string()
        .nullable()
        .describe(
          'where it is kept all the same, so that importing it here brings it back; null: it is lost',
        ),
      says: z.string().describe('the same for people'),
    }),
  )
  .describe('what has no place on the other side');

/** labels export --json */
export const labelsExportSchema = z.strictObject({
  clip: path,
  format,
  dir: path.describe('the folder that was written to'),
  recording: z.string().describe('what the recording is called in them'),
  files: z.array(z.string()).describe('the files in it that were written'),
  visits: count.describe('of any type'),
  notHeld,
  notes,
});

const counts = z.strictObject({
  visits: count.describe('of any type'),
  ignored: count.describe('stretches'),
  causes: count.describe('stretches'),
  reviewed: count.nullable().describe('stretches looked through; null: all of the clip'),
  mask: count.describe('outlines'),
  foliage: count.describe('outlines'),
});

/** labels import --json */
export const labelsImportSchema = z.strictObject({
  clip: path,
  file: path,
  format,
  deployment: z.string().nullable().describe('whose rows were read; null: the format knows none'),
  labels: counts.describe('what stands in labels.json now'),
  before: counts.nullable().describe('what stood there before; null: nothing'),
  keptAs: z
    .string()
    .nullable()
    .describe('where the labels that were replaced are kept as they were; null: none were'),
  outside: count.describe('stretches outside the clip, left out'),
  cut: count.describe('stretches of which a part lies outside, cut off'),
  notHeld,
  notes,
});

true satisfies Agree<typeof labelsExportSchema, ReturnType<typeof labelsExportDocument>>;
true satisfies Agree<typeof labelsImportSchema, LabelsImportResult>;
