import { mkdir, stat } from 'node:fs/promises';
import { jpegEncoder } from '../clip/encode.js';
import { makeFolderAtomically } from '../files/folder.js';
import { readJson } from '../files/read-json.js';
import type { Cache } from '../store/cache.js';
import { jsonKey } from '../store/key.js';
import { createScene } from './scene.js';
import { type SceneSpec, sceneSpec } from './spec.js';

/** Raised whenever the renderer draws the same scene file differently, so that old drawings are not taken for new. */
const DRAWING = 1;

/** Frames encoded at once while the next is drawn. */
const IN_FLIGHT = 4;

/** Reads a scene file (clips/*.json). */
export async function readScene(file: string): Promise<SceneSpec> {
  return readJson(file, sceneSpec, 'a scene');
}

/** Where a scene's clip folder is, or will be, in the cache: named by what is drawn, so a changed scene is drawn anew. */
export function sceneFolder(spec: SceneSpec, cache: Cache): string {
  return cache.path('scenes', jsonKey(DRAWING, spec).slice(0, 24));
}

/** Draws a scene into a clip folder in the cache, unless it is there already; the folder appears whole or not at all. */
export async function filmScene(
  spec: SceneSpec,
  cache: Cache,
  onProgress?: (done: number, total: number) => void,
): Promise<string> {
  const dir = sceneFolder(spec, cache);
  if (await stat(dir).catch(() => null)) return dir;
  const encode = await jpegEncoder();
  await mkdir(cache.path('scenes'), { recursive: true });
  await makeFolderAtomically(dir, async (folder) => {
    const scene = createScene(spec);
    await folder.makeFolder('frames');
    const waiting: Promise<void>[] = [];
    let drawn = 0;
    for (const rgb of scene.draw()) {
      const name = `${String(drawn++).padStart(6, '0')}.jpg`;
      const jpeg = encode(Uint8Array.from(rgb), scene.width, scene.height);
      waiting.push(jpeg.then((bytes) => folder.write(`frames/${name}`, bytes)));
      if (waiting.length >= IN_FLIGHT) await waiting.shift();
      onProgress?.(drawn, scene.frames);
    }
    await Promise.all(waiting);
    const manifest = { ...scene.manifest, frames: 'frames/*.jpg' };
    await folder.writeJson('clip.json', manifest);
    await folder.writeJson('labels.json', scene.labels);
  });
  return dir;
}
