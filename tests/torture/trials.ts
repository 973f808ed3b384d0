import {
  closeSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  utimesSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { basename, join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { removeNow } from '../../src/files/partial.js';
import { commandIn, type Ran } from '../support/command.js';
import { wrongWith } from './invariants.js';
import { type Chance, mutateBytes, mutateJson, one } from './mutate.js';
import { type Ended, start } from './process.js';
import { contentsOf, emptyOut, type World, wordsOf } from './world.js';

/** What every line says and makes when nothing is wrong. */
export interface Known {
  said: Record<string, { code: number; out: string }>;
  /** Of all files below out/, by their names there. */
  made: Record<string, string>;
  /** Milliseconds that each takes as a process of its own, nothing being kept. */
  takes: Record<string, number>;
}

/** What one trial did, and what was wrong; null where nothing was. */
export interface Trial {
  kind: string;
  what: string;
  wrong: string | null;
}

/** Folders that runs may change. */
const CHANGING = ['out', 'one', 'two', 'cache'];
const partials = (contents: Record<string, string>) =>
  Object.keys(contents).filter((path) => path.includes('.partial'));

export async function know(world: World): Promise<Known> {
  const known: Known = { said: {}, made: {}, takes: {} };
  const run = commandIn(world.folder);
  await run('check', 'suite.json', '--accept', '--why', 'as it is');
  for (const name of Object.keys(world.lines)) {
    const began = Date.now();
    const { code, out, err } = await start(world.folder, wordsOf(world, name), {
      cache: join(world.folder, 'cold', name),
    }).ended;
    known.takes[name] = Date.now() - began;
    if (code !== 0) throw new Error(`${name}: ${code} ${err}`);
    known.said[name] = { code, out };
  }
  rmSync(join(world.folder, 'cold'), { recursive: true });
  known.made = contentsOf(join(world.folder, 'out'));
  emptyOut(world);
  return known;
}

/** One file changed for the worse; some line that reads it run; the file put back, and the same line run again. */
export async function mutation(
  world: World,
  known: Known,
  chance: Chance,
  kind: 'json' | 'bytes',
): Promise<Trial> {
  const files = Object.keys(contentsOf(world.folder, CHANGING)).filter(
    (path) => statSync(join(world.folder, path)).isFile() && path.endsWith('.json') === (kind === 'json'),
  );
  const file = one(chance, files);
  const path = join(world.folder, file);
  const before = readFileSync(path);
  const { atime, mtime } = statSync(path);
  const after = kind === 'json' ? mutateJson(before.toString(), chance) : mutateBytes(before, chance);
  const reads = Object.keys(world.lines).filter((name) => readsFile(world, name, file));
  const name = likely(chance, reads);
  const what = `${file} ${digestOf(before, after)}; ${name}`;
  const run = commandIn(world.folder);
  writeFileSync(path, after);
  const beside = contentsOf(world.folder, CHANGING);
  let wrong = wrongWith(await run(...wordsOf(world, name)));
  wrong ??= changedBeside(beside, world);
  emptyOut(world);
  writeFileSync(path, before);
  utimesSync(path, atime, mtime);
  if (wrong || chance() < 0.25) wrong ??= await notAsKnown(world, known, name);
  return { kind, what, wrong };
}

/** How much likelier a line is that takes less time; by rule and not by the clock, so that a seed runs the same line everywhere. */
const LIKELIER: Record<string, number> = {
  'replay of one': 10,
  add: 10,
  'replay with a report': 5,
  check: 5,
  replay: 3,
};

function likely(chance: Chance, names: readonly string[]): string {
  const weights = names.map((name) => LIKELIER[name] ?? 1);
  let left = chance() * weights.reduce((sum, weight) => sum + weight, 0);
  for (const [i, name] of names.entries()) {
    left -= weights[i]!;
    if (left <= 0) return name;
  }
  return names[0]!;
}

function digestOf(before: Buffer, after: Buffer): string {
  if (after.length > 20_000 || after.includes(0)) return `${before.length} to ${after.length} bytes`;
  let same = 0;
  while (same < after.length && after[same] === before[same]) same++;
  return JSON.stringify(after.toString().slice(Math.max(0, same - 40), same + 60));
}

function readsFile(world: World, name: string, file: string): boolean {
  const [top] = file.split('/') as [string];
  const words = world.lines[name]!;
  const inSuite = ['jpegs', 'pngs', 'camera.json', 'settings.json', 'suite.accepted.json'];
  return words.includes(top) || (words.includes('suite.json') && inSuite.includes(top));
}

function changedBeside(before: Record<string, string>, world: World): string | null {
  const after = contentsOf(world.folder, CHANGING);
  for (const path of new Set([...Object.keys(before), ...Object.keys(after)])) {
    if (before[path] !== after[path]) return `changed a file of the user: ${path}`;
  }
  const left = partials(contentsOf(world.folder));
  return left.length > 0 ? `left ${left.join()}` : null;
}

/** Runs a line in this process and holds what it says and makes against what is known. */
async function notAsKnown(world: World, known: Known, name: string): Promise<string | null> {
  const ran = await commandIn(world.folder)(...wordsOf(world, name));
  const wrong = wrongWith(ran) ?? otherThan(known, name, ran) ?? otherFiles(known, join(world.folder, 'out'));
  emptyOut(world);
  return wrong && `afterwards: ${wrong}`;
}

function otherThan(known: Known, name: string, { code, out, err }: Ran): string | null {
  const { said } = known;
  if (code === said[name]!.code && out === said[name]!.out) return null;
  return `said something else: ${code} ${err.slice(0, 400)} ${out === said[name]!.out ? '' : firstDifference(said[name]!.out, out)}`;
}

function firstDifference(a: string, b: string): string {
  let i = 0;
  while (i < a.length && a[i] === b[i]) i++;
  return `${JSON.stringify(a.slice(i - 40, i + 40))} became ${JSON.stringify(b.slice(i - 40, i + 40))}`;
}

/** Whatever is made must be whole. */
function otherFiles(known: Known, folder: string): string | null {
  for (const [path, digest] of Object.entries(contentsOf(folder))) {
    if (known.made[path] !== digest) return `made another ${path}`;
  }
  return null;
}

/** The cache removed at some moments while a line runs, with nothing or all kept before. */
export async function emptiedCache(world: World, known: Known, chance: Chance): Promise<Trial> {
  const name = one(chance, Object.keys(world.lines));
  const cache = join(world.folder, 'cache');
  if (chance() < 0.5) rmSync(cache, { recursive: true, force: true });
  const moments = Array.from(
    { length: 1 + Math.floor(chance() * 4) },
    () => chance() ** 2 * known.takes[name]!,
  );
  let going = true;
  const removing = Promise.all(
    moments.map(async (moment) => {
      await setTimeout(moment);
      if (going) removeNow(cache);
    }),
  );
  const ran = await commandIn(world.folder)(...wordsOf(world, name));
  going = false;
  await removing;
  const wrong = wrongWith(ran) ?? otherThan(known, name, ran) ?? otherFiles(known, join(world.folder, 'out'));
  emptyOut(world);
  return { kind: 'emptied cache', what: `${name} at ${moments.map(Math.round).join()} ms`, wrong };
}

const SIGNALS: Readonly<Partial<Record<NodeJS.Signals, number>>> = {
  SIGINT: 130,
  SIGTERM: 143,
  SIGHUP: 129,
  SIGKILL: -1,
};

/** A line ended by a signal at some moment, and run again. */
export async function killed(world: World, known: Known, chance: Chance): Promise<Trial> {
  const name = one(chance, Object.keys(world.lines));
  const signal = one(chance, Object.keys(SIGNALS) as NodeJS.Signals[]);
  const cache = join(world.folder, 'cache');
  if (chance() < 0.7) rmSync(cache, { recursive: true, force: true });
  const before = contentsOf(world.folder, CHANGING);
  const running = start(world.folder, wordsOf(world, name));
  const moment = chance() * known.takes[name]! * 1.05;
  await setTimeout(moment);
  running.kill(signal);
  const what = `${name} by ${signal} at ${Math.round(moment)} ms`;
  let wrong = wrongEnd(await running.ended, signal, known, name);
  if (signal !== 'SIGKILL') wrong ??= changedBeside(before, world);
  wrong ??= await rightAgain(world, known, name);
  wrong ??= changedBeside(before, world);
  emptyOut(world);
  return { kind: 'killed', what, wrong };
}

function wrongEnd(ended: Ended, signal: NodeJS.Signals, known: Known, name: string): string | null {
  // Before it listens it dies at once, and after its work it ends as ever; killed between its last word and its end, it has said all.
  const said = ended.out === '' || ended.out === known.said[name]!.out;
  if (ended.signal) return ended.signal === signal && said ? null : `died of ${ended.signal}`;
  if (ended.code === known.said[name]!.code) return wrongWith(ended) ?? otherThan(known, name, ended);
  if (ended.code !== SIGNALS[signal])
    return `ended with ${ended.code} at ${signal}: ${ended.err.slice(0, 500)}`;
  const told = ended.err
    .trim()
    .split('\n')
    .filter((line) => !/note: |: \d+ of /.test(line));
  if (told.length === 1 && /^perchmark: stopped; /.test(told[0]!)) return null;
  return `told other than one line: ${JSON.stringify(ended.err)}`;
}

/** Runs a line again without any tidying, unless the folder that it makes is there already. */
async function rightAgain(world: World, known: Known, name: string): Promise<string | null> {
  for (const folder of ['windy', 'added'])
    rmSync(join(world.folder, 'out', folder), { recursive: true, force: true });
  const ran = await start(world.folder, wordsOf(world, name)).ended;
  const wrong = wrongWith(ran) ?? otherThan(known, name, ran) ?? otherFiles(known, join(world.folder, 'out'));
  return wrong && `afterwards: ${wrong}`;
}

/** The same line twice at once, with nothing kept. */
export async function twice(world: World, known: Known, chance: Chance): Promise<Trial> {
  const name = one(chance, Object.keys(world.lines));
  rmSync(join(world.folder, 'cache'), { recursive: true, force: true });
  const runs = ['one', 'two'].map((out) => wordsOf(world, name, out));
  for (const out of ['one', 'two']) mkdirSync(join(world.folder, out));
  const ends = await Promise.all(runs.map((words) => start(world.folder, words).ended));
  let wrong: string | null = null;
  for (const [i, out] of ['one', 'two'].entries()) {
    const ran = ends[i]!;
    const said = { ...ran, out: ran.out.replaceAll(`${out}/`, 'out/') };
    wrong ??= wrongWith(ran) ?? otherThan(known, name, said) ?? otherFiles(known, join(world.folder, out));
  }
  const left = partials(contentsOf(world.folder));
  if (left.length > 0) wrong ??= `left ${left.join()}`;
  for (const out of ['one', 'two']) rmSync(join(world.folder, out), { recursive: true });
  return { kind: 'twice', what: name, wrong };
}

/** Files that are made, but not twice the same. */
const SAYS_WHERE = ['said', join('windy', 'clip.json')];

/**
 * A line on a disk with little room: for what it makes, for the cache, or for standard output.
 * @param disk where a small file system is mounted
 */
export async function fullDisk(world: World, known: Known, chance: Chance, disk: string): Promise<Trial> {
  const name = one(chance, Object.keys(world.lines));
  const use = one(chance, ['outputs', 'cache', 'standard output'] as const);
  const room = Math.floor(chance() ** 3 * 400_000);
  fill(disk, room);
  const what = `${name} with ${room} bytes for its ${use}`;
  const before = contentsOf(disk);
  const cold = chance() < 0.5;
  if (cold) rmSync(join(world.folder, 'cache'), { recursive: true, force: true });
  let ran: Ran;
  if (use === 'standard output') {
    const output = openSync(join(disk, 'said'), 'w');
    ran = await start(world.folder, wordsOf(world, name), { output }).ended;
    closeSync(output);
    ran = { ...ran, out: readFileSync(join(disk, 'said'), 'utf8') };
  } else if (use === 'cache')
    ran = await commandIn(world.folder, join(disk, 'cache'))(...wordsOf(world, name));
  else ran = await commandIn(world.folder)(...wordsOf(world, name, disk));
  let wrong = wrongWith(use === 'standard output' && ran.code === 2 ? { ...ran, out: '' } : ran);
  const full = ran.code === 2 && /ENOSPC.*no space left/.test(ran.err);
  if (ran.code === 2 && !full) wrong ??= `told something else: ${ran.err}`;
  if (full && use === 'cache' && !/scenes/.test(ran.err))
    wrong ??= `did not go on without the cache: ${ran.err}`;
  if (!full) wrong ??= otherThan(known, name, { ...ran, out: asIfInOut(ran.out, world, disk) });
  if (use !== 'cache') {
    for (const [path, digest] of Object.entries(contentsOf(disk))) {
      if (before[path] === undefined && !SAYS_WHERE.includes(path) && known.made[path] !== digest)
        wrong ??= `left half of ${path}`;
    }
  }
  const left = partials({ ...contentsOf(disk), ...contentsOf(world.folder) });
  if (left.length > 0) wrong ??= `left ${left.join()}`;
  for (const entry of readdirSync(disk)) rmSync(join(disk, entry), { recursive: true });
  emptyOut(world);
  return { kind: 'full disk', what, wrong };
}

/** What a line says of files on the disk, as if they lay where they lie else. */
function asIfInOut(said: string, { folder }: World, disk: string): string {
  return said.replaceAll(`${disk}/`, 'out/').replaceAll(`../../${basename(folder)}/`, '../../');
}

function fill(disk: string, room: number): void {
  const file = openSync(join(disk, 'filler'), 'w');
  let size = 0;
  try {
    for (;;) size += writeSync(file, Buffer.alloc(4096));
  } catch {
    // Full.
  }
  closeSync(file);
  truncateSync(join(disk, 'filler'), Math.max(0, size - room));
}
