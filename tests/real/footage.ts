import { execFile } from 'node:child_process';
import { createHash, randomBytes } from 'node:crypto';
import { mkdir, readdir, readFile, rename, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';

const execute = promisify(execFile);

/**
 * Two recordings that anyone can get: data/tree.avi and data/vtest.avi of opencv-doc, a Debian package. The labels of
 * these tests hold for these very files, so their SHA-256 is checked.
 */
const recordings = {
  'tree.avi': '4666099d0f704e310047b2f0a5ec9f936cb76a7271de9a2e70a0c57f82ac82dc',
  'vtest.avi': '45cddc9490be69345cbdab64ca583be65987e864ca408038e648db99e10516cf',
};

/** Paths of the two recordings. */
export interface Footage {
  /** 320x240, 68 frames over about 30 s at uneven times: a tree in the wind, a hand from frame 53 on. */
  tree: string;
  /** 768x576, 795 frames at 10 a second: people on a path. */
  people: string;
}

/**
 * The recordings, fetched when first needed (about 96 MB, of which 9 MB stay) and kept in $PERCHMARK_TEST_DATA, else
 * in a folder of the system's for temporary files. Nothing is installed, and no list of apt's own is touched.
 *
 * @returns the paths, or in one line why they can't be used
 */
export async function findFootage(): Promise<Footage | { missing: string }> {
  const dir = process.env.PERCHMARK_TEST_DATA || join(tmpdir(), 'perchmark-test-data');
  try {
    for (const tool of ['ffmpeg', 'ffprobe']) await run(tool, ['-version']);
    if (!(await isWhole(dir))) await fetchInto(dir);
  } catch (error) {
    return { missing: (error as Error).message };
  }
  return { tree: join(dir, 'tree.avi'), people: join(dir, 'vtest.avi') };
}

async function isWhole(dir: string): Promise<boolean> {
  for (const [name, expected] of Object.entries(recordings)) {
    const bytes = await readFile(join(dir, name)).catch(() => null);
    if (!bytes || createHash('sha256').update(bytes).digest('hex') !== expected) return false;
  }
  return true;
}

async function fetchInto(dir: string): Promise<void> {
  // On the same file system as its target, so that each rename is whole; a name of its own for every run.
  const work = join(dir, `.${process.pid}.${randomBytes(6).toString('hex')}.partial`);
  await mkdir(work, { recursive: true });
  try {
    await download(work);
    const deb = (await readdir(work)).find((name) => name.endsWith('.deb'));
    if (!deb) throw new Error('apt-get download opencv-doc left no package');
    await run('dpkg-deb', ['-x', deb, 'unpacked'], work);
    const files = await readdir(join(work, 'unpacked'), { recursive: true });
    const data: Record<string, string> = {};
    for (const name of Object.keys(recordings)) {
      const found = files.find((file) => file.endsWith(`/data/${name}`));
      if (!found) throw new Error(`${deb} holds no data/${name}`);
      data[name] = found;
    }
    for (const [name, file] of Object.entries(data)) {
      await rename(join(work, 'unpacked', file), join(dir, name));
    }
    if (!(await isWhole(dir))) {
      throw new Error(`${deb} holds other recordings than those that the labels describe (SHA-256)`);
    }
  } finally {
    await rm(work, { recursive: true, force: true });
  }
}

async function download(work: string): Promise<void> {
  const get = ['download', '-q', 'opencv-doc'];
  try {
    await run('apt-get', get, work);
  } catch (known) {
    // The machine's package lists may be absent or stale, and theirs to renew; a copy of our own needs no rights.
    const lists = [
      '-o',
      `Dir::State::lists=${join(work, 'lists')}`,
      '-o',
      `Dir::Cache=${join(work, 'cache')}`,
    ];
    await mkdir(join(work, 'lists', 'partial'), { recursive: true });
    await mkdir(join(work, 'cache', 'archives', 'partial'), { recursive: true });
    try {
      await run('apt-get', [...lists, 'update', '-q'], work);
      await run('apt-get', [...lists, ...get], work);
    } catch {
      throw known;
    }
  }
}

async function run(tool: string, args: string[], cwd?: string): Promise<void> {
  try {
    await execute(tool, args, { ...(cwd !== undefined && { cwd }), timeout: 300_000, maxBuffer: 2 ** 24 });
  } catch (error) {
    const { code, stderr = '' } = error as { code?: string | number; stderr?: string };
    const said = stderr.split('\n').find((line) => line.startsWith('E: ')) ?? `it ended with ${code}`;
    throw new Error(
      code === 'ENOENT' ? `${tool} is not on the PATH` : `${tool} ${args.join(' ')} failed: ${said}`,
    );
  }
}
