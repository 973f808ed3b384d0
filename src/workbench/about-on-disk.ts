import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { z } from 'zod';
import { parseJson } from '../base/json.js';
import { Problem } from '../base/problem.js';
import { printedJson } from '../base/text.js';
import { manifestSchema } from '../clip/manifest.js';
import { exchange } from '../files/exchange.js';
import { readText } from '../files/read-json.js';
import type { Place } from './places.js';

const WHAT = "a clip's description";
const { shape } = manifestSchema;

/** What the owner may say of a recording afterwards; what is left out is not known. */
export const aboutSchema = z.strictObject({
  site: z.string().regex(/\S/, { error: 'the name of a spot' }).max(60).optional(),
  start: shape.start,
  place: shape.place,
  conditions: shape.conditions,
});

export type About = z.output<typeof aboutSchema>;

/** GET api/clips/ID/about; 409 with it to PUT where clip.json is not what `base` names. */
export interface AboutState {
  about: About;
  /** Names what is in clip.json. */
  revision: string;
  /** The spot that a project counts it as, which is changed in the project alone. */
  project: string | null;
  /** Whether it is drawn by the program: what was drawn is known, and cannot be said otherwise. */
  drawn: boolean;
}

/** The answer to PUT: what is on disk then. */
export interface AboutSaved extends AboutState {
  /** Which spot the clip is of, where that is not what was asked for, and why; null: it is. */
  otherSpot: string | null;
}

/** @throws Problem for a clip.json that is wrong */
export async function aboutOnDisk({ path, kind, site: project }: Place): Promise<AboutState> {
  if (kind === 'scene') return { about: {}, revision: '', project, drawn: true };
  const { text, ...said } = await read(path);
  return { ...said, project, drawn: false };
}

async function read(path: string): Promise<{ about: About; revision: string; text: string }> {
  const file = join(path, 'clip.json');
  const text = await readText(file, WHAT);
  const manifest = parseJson(text, file, manifestSchema, WHAT);
  return { about: aboutIn(manifest), revision: createHash('sha256').update(text).digest('hex'), text };
}

function aboutIn({ site, start, place, conditions }: z.output<typeof manifestSchema>): About {
  return {
    ...(site !== undefined && { site }),
    ...(start !== undefined && { start }),
    ...(place !== undefined && { place }),
    ...(conditions !== undefined && { conditions }),
  };
}

/**
 * Writes into clip.json what is said of the recording, and leaves the rest as it stands, unless the file is not what `base`
 * names any more, whoever else writes it at the same time.
 * @returns what is on disk then, and whether that is what was given
 * @throws Problem for a drawn clip, or a file that cannot be written
 */
export async function writeAbout(
  place: Place,
  about: About,
  base: string,
): Promise<AboutState & { written: boolean }> {
  if (place.kind === 'scene') {
    throw new Problem('usage', `${place.name}: this clip is drawn, and what was drawn is known already`);
  }
  const file = join(place.path, 'clip.json');
  let there: AboutState | undefined;
  const written = await exchange(file, async () => {
    const { text, ...said } = await read(place.path);
    there = { ...said, project: place.site, drawn: false };
    if (said.revision !== base) return null;
    const next = withAbout(text, about, place.site !== null);
    const revision = createHash('sha256').update(next).digest('hex');
    there = { ...there, about: aboutIn(parseJson(next, file, manifestSchema, WHAT)), revision };
    return next;
  });
  return { ...there!, written };
}

/** @param keepsSite where a project says which spot it is of */
function withAbout(text: string, { site, start, place, conditions }: About, keepsSite: boolean): string {
  const manifest = JSON.parse(text.replace(/^\uFEFF/, '')) as { site?: string };
  const spot = keepsSite ? manifest.site : site;
  // What is undefined is left out where it is printed.
  return printedJson({ ...manifest, site: spot, start, place, conditions });
}
