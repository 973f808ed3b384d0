import { readFile, realpath } from 'node:fs/promises';
import { basename, dirname, isAbsolute, join, resolve, sep } from 'node:path';
import { Problem } from '../base/problem.js';
import { stemOf } from '../base/stems.js';
import { quoted } from '../base/text.js';
import type { defaultCamera } from '../camera/default.js';
import type { ResolvedSettings, SettingsFile } from '../camera/settings.js';
import { readSuite, type Suite, settingsOf } from '../check/suite.js';
import { readText } from '../files/read-json.js';
import { cameraFile, cameraShown, isShipped } from '../files/shipped-cameras.js';
import { openCamera, openSettings } from '../jobs/open.js';
import { keyOf } from '../store/key.js';
import { type ClipPrint, printOf } from './clip-print.js';
import { type Kind, type Payload, sharedPath } from './payload.js';
import type { Program } from './program.js';
import type { Job } from './queue.js';
import type { FleetVerb, Run } from './run.js';

/** What is asked of a fleet; paths are within the shared folder. */
export interface Asked {
  verb: FleetVerb;
  /** A suite (its name ends in .json), or a list: a clip a line, from where the list lies. */
  source: string;
  /** Of a list; a suite names its own. */
  camera: string | null;
  settings: string | null;
}

export interface Planned {
  /** Of the run: its folder of results. */
  name: string;
  run: Run;
  jobs: Job[];
}

/** What the source says. */
interface Source {
  clips: string[];
  camera: string | null;
  settings: string | SettingsFile | null;
  suite: Suite | null;
}

/** Raised whenever the same files are other jobs. */
const FORMAT = 1;

/**
 * What a run consists of. Keys of jobs follow from all that their answer depends on, so that the same is never done twice,
 * whoever submits it; small ones come first, what needs them after.
 * @param now by a clock that all who submit share
 * @throws Problem for anything wrong with the source, the camera or the settings
 */
export async function planRun(asked: Asked, program: Program, now: Date): Promise<Planned> {
  const { verb, source } = asked;
  const said = await readSource(asked);
  await mustBeShared(source, said);
  const camera = await openCamera(said.camera === null ? undefined : await cameraFile(said.camera));
  const settings = verb === 'tune' ? null : await resolved(said, camera);
  const prints: ClipPrint[] = [];
  for (const path of said.clips) prints.push(await printOf(path));
  const accepted = said.suite && (await readFile(said.suite.acceptedFile, 'utf8').catch(() => null));
  const of = [FORMAT, program, camera, settings];
  const text = await readText(source, 'what to submit');
  const id = keyOf(...of, verb, source, text, accepted, prints.map(keyed));
  const name = `${stemOf(basename(source).replace(/\.\w+$/, '')) || 'run'}-${verb}-${id.slice(0, 12)}`;
  const jobs: Job[] = [];
  const add = (kind: Kind, clips: readonly ClipPrint[], needs: readonly Job[]): Job => {
    const key = kind === 'write' ? id : keyOf(...of, kind, clips.map(keyed));
    const ofClips: Pick<Payload, 'camera' | 'settings'> =
      kind === 'write' ? { camera: null, settings: null } : { camera, settings };
    const payload = { kind, program, clips: clips.map(({ path }) => path), ...ofClips, run: name };
    const job = { key, needs: needs.map((one) => one.key), payload };
    jobs.push(job);
    return job;
  };
  if (verb === 'tune') {
    const read = new Map(prints.map((print) => [print, add('read', [print], [])]));
    for (const clips of bySite(prints)) {
      add(
        'tune',
        clips,
        clips.map((clip) => read.get(clip)!),
      );
    }
  } else {
    for (const print of prints) add(verb, [print], []);
  }
  const siteOf = new Map(prints.map(({ path, site }) => [path, site]));
  add('write', prints, [...jobs]);
  const run: Run = {
    version: 1,
    verb,
    source,
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

/** What the answer of a job depends on. */
function keyed({ path, site, print }: ClipPrint) {
  return { path, site, print };
}

/** @throws Problem where one of the paths leads out of the folder that other machines see, by itself or by a link */
async function mustBeShared(source: string, { clips, camera, settings }: Source): Promise<void> {
  const home = await realpath('.');
  for (const path of [...clips, camera, settings]) {
    if (typeof path !== 'string' || isShipped(path)) continue;
    const target = await realpath(path).catch(() => resolve(path));
    const inside = target === home || target.startsWith(`${home}${sep}`);
    if (inside && sharedPath.safeParse(path).success) continue;
    throw new Problem(
      'leaves-folder',
      `${source}: expected clips, camera and settings in the shared folder, which all machines see, by their paths from there, found ${quoted(path)}, which lies elsewhere; put it there`,
    );
  }
}

/** In the order in which sites first come; clips that name none are one. */
function bySite(prints: readonly ClipPrint[]): ClipPrint[][] {
  const groups = new Map<string | null, ClipPrint[]>();
  for (const print of prints) groups.set(print.site, [...(groups.get(print.site) ?? []), print]);
  return [...groups.values()];
}

async function readSource({ verb, source, camera, settings }: Asked): Promise<Source> {
  if (source.endsWith('.json')) {
    if (camera !== null || settings !== null) {
      throw new Problem(
        'usage',
        `${source}: expected the camera and the settings that the suite names, found --camera or --settings too; leave them out`,
      );
    }
    const suite = await readSuite(source);
    return {
      clips: suite.clips.map(({ path }) => path),
      camera: suite.cameraFile === null ? null : cameraShown(suite.cameraFile),
      settings: verb === 'tune' ? null : suite.settings,
      suite,
    };
  }
  if (verb === 'check') {
    throw new Problem(
      'usage',
      `${source}: check: expected a suite, whose name ends in .json (perchmark schema suite prints what goes into one), found a list of clips; name a suite, or add --verb tune or --verb diagnose`,
    );
  }
  if (verb === 'diagnose' && settings === null) {
    throw new Problem(
      'usage',
      '--settings: expected a file of settings to diagnose a list of clips under, found none; add it',
    );
  }
  const clips = await readList(source);
  return { clips, camera, settings: verb === 'tune' ? null : settings, suite: null };
}

/** A clip a line, from the folder of the list; empty lines and those that begin with # do not count. */
async function readList(file: string): Promise<string[]> {
  const text = await readText(file, 'a list of clips, one a line');
  const clips: string[] = [];
  const places = new Set<string>();
  for (const [i, line] of text.split('\n').entries()) {
    const clip = line.trim();
    if (clip === '' || clip.startsWith('#')) continue;
    const path = isAbsolute(clip) ? clip : join(dirname(file), clip).replace(/\/$/, '');
    const target = await realpath(path).catch(() => {
      throw new Problem(
        'file-missing',
        `${file}: line ${i + 1}: expected a clip folder or a scene file, found nothing at ${path}; mend it, from the folder of the list`,
      );
    });
    if (places.has(target)) {
      throw new Problem('bad-field', `${file}: line ${i + 1}: ${path} stands there twice; take one out`);
    }
    places.add(target);
    clips.push(path);
  }
  if (clips.length > 0) return clips;
  throw new Problem('bad-field', `${file}: expected the name of a clip on each line, found none; write them`);
}

async function resolved(
  { suite, settings }: Source,
  camera: typeof defaultCamera,
): Promise<ResolvedSettings | null> {
  if (suite) return settingsOf(suite, camera);
  return settings === null ? null : openSettings(settings, camera);
}
