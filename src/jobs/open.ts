import { mkdtempSync, rmSync } from 'node:fs';
import { access, constants, mkdir, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Progress } from '../cli/progress.js';
import { warn } from '../cli/terminal.js';
import { type Clip, openClip } from '../clip/open.js';
import { Cache } from '../store/cache.js';

/** The cache; where it cannot be written, a temporary one that lasts for this run, with a note saying so. */
export async function openCache(): Promise<Cache> {
  const cache = new Cache(undefined, warn);
  try {
    await mkdir(cache.root, { recursive: true });
    await access(cache.root, constants.W_OK);
    return cache;
  } catch {
    const temporary = mkdtempSync(join(tmpdir(), 'perchmark-'));
    process.on('exit', () => rmSync(temporary, { recursive: true, force: true }));
    warn(
      `${cache.root}: cannot be written, so nothing is kept for the next run; set PERCHMARK_CACHE to another folder`,
    );
    return new Cache(temporary, warn);
  }
}

/** Opens clips in the order given. A scene file stands for the clip it draws, which is drawn when first needed. */
export async function openClips(paths: readonly string[], cache: Cache): Promise<Clip[]> {
  const clips: Clip[] = [];
  for (const path of paths) {
    const dir = (await isSceneFile(path)) ? await drawn(path, cache) : path;
    const progress = new Progress(`${path}: looking through the files`);
    const clip = await openClip(dir, { cache, onProgress: progress.update });
    progress.end();
    for (const warning of clip.warnings) warn(warning);
    const twin = clips.find((other) => other.contentKey === clip.contentKey);
    if (twin)
      warn(
        `${path}: the same recording as ${twin.dir}, so it counts twice and nothing can be told from leaving one out`,
      );
    clips.push({ ...clip, dir: path });
  }
  return clips;
}

async function isSceneFile(path: string): Promise<boolean> {
  return path.endsWith('.json') && (await stat(path).catch(() => null))?.isFile() === true;
}

/** The clip folder a scene was drawn into, kept in the cache. */
async function drawn(file: string, cache: Cache): Promise<string> {
  // The renderer is loaded only where a scene is named: nobody's own clips need it.
  const { filmScene, readScene } = await import('../scene/film.js');
  const progress = new Progress(`${file}: drawing`);
  const dir = await filmScene(await readScene(file), cache, progress.update);
  progress.end();
  return dir;
}
