import { readFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { Problem } from '../base/problem.js';
import { jpegEncoder } from '../clip/encode.js';
import { type Clip, openClip } from '../clip/open.js';
import type { OpenOptions } from '../clip/recording.js';
import { codeOf } from '../files/faults.js';
import { makeSharedFolder } from '../files/folder.js';
import { readJson } from '../files/read-json.js';
import type { Cache } from '../store/cache.js';
import { jsonKey, keyOf } from '../store/key.js';
import { createScene } from './scene.js';
import { type SceneSpec, sceneSpec } from './spec.js';

/** Raised whenever the renderer draws the same scene file differently, so that old drawings are not taken for new. */
const DRAWING = 1;
/** How often a scene is drawn should somebody else damage or remove the drawing again and again. */
const TRIES = 3;
/** The folder of all drawings. */
const SCENES = 'scenes';
/** The file that says what the others must be. */
const SEAL = 'seal';
/** Sealed together with the frames. */
const ABOUT = ['clip.json', 'labels.json'];

/** Reads a scene file (clips/*.json). */
export async function readScene(file: string): Promise<SceneSpec> {
  return readJson(file, sceneSpec, 'a scene');
}

/** Where a scene's clip folder is, or will be, in the cache: named by what is drawn, so a changed scene is drawn anew. */
export function sceneFolder(spec: SceneSpec, cache: Cache): string {
  return cache.path(SCENES, jsonKey(DRAWING, spec).slice(0, 24));
}

/**
 * The clip that a scene stands for, drawn into the cache unless it is there already. A drawing that is not what was drawn
 * is drawn again, now or in the middle of reading it.
 * @throws Problem 'file-unwritable' where there is no place for it
 */
export async function openScene(
  spec: SceneSpec,
  options: Omit<OpenOptions, 'labels'> & { onDrawing?: () => void },
): Promise<Clip> {
  const dir = sceneFolder(spec, options.cache);
  const quiet: OpenOptions = { cache: options.cache, ...(options.signal && { signal: options.signal }) };
  const whole = async () => {
    for (const place of options.cache.places([SCENES, basename(dir)])) {
      const clip = await openWhole(place, quiet);
      if (clip) return clip;
    }
    return null;
  };
  let clip = await whole();
  for (let tries = 0; !clip; tries++) {
    if (tries === TRIES) {
      throw new Problem(
        'file-unwritable',
        `${dir}: this drawing was changed or removed as often as it was made; see what does it, or set PERCHMARK_CACHE to another folder`,
      );
    }
    options.onDrawing?.();
    await film(spec, dir, async () => (await whole()) !== null, options).catch((error) => {
      if (!isOfEmptying(error)) throw error;
    });
    clip = await whole();
  }
  return clip.source.kind === 'stills'
    ? {
        ...clip,
        source: {
          ...clip.source,
          again: once(() => openScene(spec, quiet)),
          used: () => options.cache.use([SCENES, basename(dir)]),
        },
      }
    : clip;
}

/** Whether drawing failed because somebody emptied the cache meanwhile, as they may: files were missing, or looked damaged. */
function isOfEmptying(error: unknown): boolean {
  const code = codeOf(error) ?? codeOf((error as Error).cause);
  return code === undefined ? error instanceof Problem : code === 'ENOENT';
}

/** Callers that ask while it goes on wait for the same. */
function once(act: () => Promise<unknown>): () => Promise<void> {
  let going: Promise<void> | null = null;
  return () => {
    going ??= act()
      .then(() => undefined)
      .finally(() => {
        going = null;
      });
    return going;
  };
}

/** The clip in a folder that is as it was drawn; null where it is not. */
async function openWhole(dir: string, options: OpenOptions): Promise<Clip | null> {
  try {
    const clip = await openClip(dir, options);
    const seal = await readFile(join(dir, SEAL), 'latin1');
    if (seal !== (await sealOf(dir, clip))) return null;
    await options.cache.use([SCENES, basename(dir)]);
    return clip;
  } catch {
    options.signal?.throwIfAborted();
    return null;
  }
}

async function film(
  spec: SceneSpec,
  dir: string,
  isWhole: () => Promise<boolean>,
  { cache, signal, onProgress }: Omit<OpenOptions, 'labels'>,
): Promise<void> {
  const encode = await jpegEncoder();
  // Where that fails, so does what follows, and tells.
  await cache.makeFolder(SCENES).catch(() => undefined);
  await makeSharedFolder(
    dir,
    async (folder) => {
      const scene = createScene(spec);
      await folder.makeFolder('frames');
      let drawn = 0;
      for (const rgb of scene.draw()) {
        signal?.throwIfAborted();
        const name = `${String(drawn++).padStart(6, '0')}.jpg`;
        const { width, height } = scene;
        const jpeg = encode({ pixels: Uint8Array.from(rgb), channels: 3, width, height });
        await folder.writeLater(`frames/${name}`, jpeg);
        onProgress?.(drawn, scene.frames);
      }
      await folder.settle();
      await folder.writeJson('clip.json', { ...scene.manifest, frames: 'frames/*.jpg' });
      await folder.writeJson('labels.json', scene.labels);
      const clip = await openClip(folder.path, { cache, ...(signal && { signal }) });
      await folder.write(SEAL, await sealOf(folder.path, clip));
    },
    isWhole,
  );
}

/** The key of all that a drawing holds. */
async function sealOf(dir: string, { contentKey }: Clip): Promise<string> {
  return keyOf(contentKey, ...(await Promise.all(ABOUT.map((name) => readFile(join(dir, name))))));
}
