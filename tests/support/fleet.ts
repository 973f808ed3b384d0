import { type ChildProcess, spawn } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { statusSchema } from '../../src/jobs/documents/fleet.js';
import { drawFrames, smallCamera, writeClip } from './clips.js';
import { bin, type Command, type Ran } from './command.js';

/** Clips of the folder by their names, and the site of each. */
export const SITES = { alder: 'log pile', birch: 'log pile', cedar: 'water bowl', elder: 'water bowl' };

/** A folder that machines share: four small clips of two sites, a suite and a list of them. */
export async function sharedFolder(at?: string): Promise<string> {
  const shared = at ?? mkdtempSync(join(tmpdir(), 'perchmark-shared-'));
  mkdirSync(join(shared, 'clips'), { recursive: true });
  for (const [i, [name, site]] of Object.entries(SITES).entries()) {
    const frames = drawFrames(
      60,
      (k) => {
        if (k >= 10 && k < 20) return { x: 5 + 4 * (k % 10), y: 10, size: 8, level: 190 };
        return k >= 40 && k < 44 ? { x: 30 + i, y: 30, size: 6, level: 150 } : null;
      },
      `fleet ${name}`,
    );
    const labels = { version: 1, visits: [{ start: 2, end: 4.2, name: 'wren' }] };
    await writeClip(join(shared, 'clips', name), frames, labels, {
      rate: 5,
      site,
      conditions: { wind: 2, rain: 0, light: 9000 },
    });
  }
  const write = (name: string, value: unknown) => writeFileSync(join(shared, name), JSON.stringify(value));
  // Few frames a second of a small picture: what is tried of fleets is not how a camera sees.
  write('camera.json', smallCamera);
  write('now.json', settings(46));
  write('suite.json', suite());
  writeFileSync(join(shared, 'list.txt'), `${clips().join('\n')}\n`);
  return shared;
}

export function settings(threshold: number) {
  return { version: 1, threshold, minimumArea: 16, cooldown: 1 };
}

export function suite() {
  return { version: 1, clips: clips(), camera: 'camera.json', settings: 'now.json' };
}

export function clips(): string[] {
  return Object.keys(SITES).map((name) => `clips/${name}`);
}

/** What lies in the results of a fleet: folder by folder the document, and how it ended. */
export function resultsIn(shared: string): Record<string, { document: string | null; outcome: unknown }> {
  const folder = join(shared, 'fleet', 'results');
  const found: Record<string, { document: string | null; outcome: unknown }> = {};
  for (const name of readdirSync(folder)) {
    const files = readdirSync(join(folder, name));
    const read = (file: string) =>
      files.includes(file) ? readFileSync(join(folder, name, file), 'utf8') : null;
    found[name] = { document: read('document.json'), outcome: JSON.parse(read('outcome.json') ?? 'null') };
  }
  return found;
}

/** A worker in a process of its own. */
export interface Started {
  child: ChildProcess;
  ended: Promise<Ran>;
}

/** A worker as a user starts it. */
export function startWorker(shared: string, queue: string, ...more: string[]): Started {
  return startedWith({ PERCHMARK_QUEUE: queue }, shared, more);
}

/**
 * A worker that is in the midst of a job, and stays there until it is ended.
 * @param mark a file that is not there yet
 */
export async function workerInTheMidst(
  mark: string,
  shared: string,
  queue: string,
  ...more: string[]
): Promise<Started> {
  const loaded = new URL('held-reading.js', import.meta.url).href;
  const env = { PERCHMARK_QUEUE: queue, HELD_READING: mark, NODE_OPTIONS: `--import ${loaded}` };
  const started = startedWith(env, shared, more);
  while (!existsSync(mark)) {
    if (started.child.exitCode !== null) throw new Error((await started.ended).err);
    await pause(50);
  }
  return started;
}

function startedWith(env: Record<string, string>, shared: string, more: readonly string[]): Started {
  const child = spawn(process.execPath, [bin, 'fleet', 'work', '--shared', shared, ...more], {
    env: { ...process.env, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const ran: Ran = { code: 0, out: '', err: '' };
  child.stdout!.on('data', (text) => {
    ran.out += text;
  });
  child.stderr!.on('data', (text) => {
    ran.err += text;
  });
  const ended = new Promise<Ran>((done) => {
    child.on('close', (code) => done({ ...ran, code: code ?? -1 }));
  });
  return { child, ended };
}

/** The commands of a fleet on one queue, as they behave in the shared folder. */
export function fleetOn(run: Command, queue: string) {
  const onQueue = ['--shared', '.', '--queue', queue];
  return {
    submit: (...words: string[]) => run('fleet', 'submit', ...words, ...onQueue),
    work: (...words: string[]) => run('fleet', 'work', '--until-empty', ...words, ...onQueue),
    status: (...words: string[]) => run('fleet', 'status', ...words, ...onQueue),
    async told() {
      const { out } = await run('fleet', 'status', '--json', ...onQueue);
      return statusSchema.parse(JSON.parse(out));
    },
  };
}

export function remove(folder: string): void {
  rmSync(folder, { recursive: true, force: true });
}
