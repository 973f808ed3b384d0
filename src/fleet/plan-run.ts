import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { stemOf } from '../base/stems.js';
import { mustNameSite } from '../files/project.js';
import { readText } from '../files/read-json.js';
import { keyOf } from '../store/key.js';
import { type ClipPrint, printOf } from './clip-print.js';
import type { Kind, Payload } from './payload.js';
import type { Program } from './program.js';
import type { Job } from './queue.js';
import type { Run } from './run.js';
import { type Asked, readSource, type Spot } from './source.js';

export interface Planned {
  /** Of the run: its folder of results. */
  name: string;
  run: Run;
  jobs: Job[];
}

/** A spot, and what can be told of its clips. */
interface Printed extends Spot {
  prints: ClipPrint[];
}

/** Raised whenever the same files are other jobs. */
const FORMAT = 3;

/**
 * What a run consists of. Keys of jobs follow from all that their answer depends on, so that the same is never done twice,
 * whoever submits it; small ones come first, what needs them after.
 * @param now by a clock that all who submit share
 * @throws Problem for anything wrong with the source, the camera or the settings
 */
export async function planRun(asked: Asked, program: Program, now: Date): Promise<Planned> {
  const { verb, source } = asked;
  const said = await readSource(asked);
  const spots: Printed[] = [];
  for (const spot of said.spots) spots.push({ ...spot, prints: await printsOf(spot, source) });
  const prints = spots.flatMap((spot) => spot.prints);
  const accepted = said.suite && (await readFile(said.suite.acceptedFile, 'utf8').catch(() => null));
  const text = await readText(source, 'what to submit');
  const of = spots.map(({ site, camera, settings, prints }) => [site, camera, settings, prints.map(keyed)]);
  const id = keyOf(FORMAT, program, verb, source, said.site, text, accepted, of);
  const name = `${stemOf(basename(source).replace(/\.\w+$/, '')) || 'run'}-${verb}-${id.slice(0, 12)}`;
  const jobs: Job[] = [];
  const add = (kind: Kind, clips: readonly ClipPrint[], spot: Spot | null, needs: readonly Job[]): Job => {
    const { camera = null, site = null } = spot ?? {};
    // What is read of a clip does not depend on what is set.
    const settings = kind === 'read' ? null : (spot?.settings ?? null);
    const key = spot ? keyOf(FORMAT, program, camera, settings, kind, clips.map(keyed)) : id;
    const paths = clips.map(({ path }) => path);
    const seen = kind === 'tune' ? clips.map((clip) => clip.seen) : [];
    const payload: Payload = { kind, program, clips: paths, seen, camera, settings, site, run: name };
    const job = { key, needs: needs.map((one) => one.key), payload };
    jobs.push(job);
    return job;
  };
  for (const spot of spots) {
    if (verb !== 'tune') {
      for (const print of spot.prints) add(verb, [print], spot, []);
      continue;
    }
    const read = new Map(spot.prints.map((print) => [print, add('read', [print], spot, [])]));
    for (const clips of bySite(spot.prints)) {
      const needs = clips.map((clip) => read.get(clip)!);
      add('tune', clips, spot, needs);
    }
  }
  const siteOf = new Map(prints.map(({ path, site }) => [path, site]));
  add('write', prints, null, [...jobs]);
  const run: Run = {
    version: 1,
    verb,
    source,
    site: said.site,
    spots: said.spots.flatMap(({ site, ...spot }) => (site === null ? [] : [{ site, ...spot }])),
    camera: said.camera,
    settings: said.settings,
    program,
    submitted: now.toISOString(),
    clips: prints.map(({ path, site, seen }) => ({ path, site, seen })),
    jobs: jobs.map(({ key, payload: { kind, clips } }) => ({
      key,
      kind,
      clips: kind === 'write' ? [] : clips,
      ...(kind !== 'write' && { site: siteOf.get(clips[0]!) ?? null }),
    })),
  };
  return { name, run, jobs };
}

/** @throws Problem where a clip names another site than the project does */
async function printsOf({ site, clips }: Spot, source: string): Promise<ClipPrint[]> {
  const prints: ClipPrint[] = [];
  for (const path of clips) {
    const print = await printOf(path);
    if (site !== null) mustNameSite(site, print.site, path, source);
    prints.push({ ...print, site: site ?? print.site });
  }
  return prints;
}

/** What the answer of a job depends on. */
function keyed({ path, site, print }: ClipPrint) {
  return { path, site, print };
}

/** In the order in which sites first come; clips that name none are one. */
function bySite(prints: readonly ClipPrint[]): ClipPrint[][] {
  const groups = new Map<string | null, ClipPrint[]>();
  for (const print of prints) groups.set(print.site, [...(groups.get(print.site) ?? []), print]);
  return [...groups.values()];
}
