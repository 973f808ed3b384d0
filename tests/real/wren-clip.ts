import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';
import { emptyScene, figureAt, paste } from './cutout.js';
import { frameTimes, readFilm } from './film.js';
import type { Footage } from './footage.js';
import { visitors } from './visitors.js';

export const wrenFrame = { width: 320, height: 240 };
/** A wren of 9.5 cm at 2 m through a lens of 62.2 degrees, on 320 pixels: about 12.6. */
const WREN_PIXELS = ((wrenFrame.width / 2 / Math.tan((62.2 / 2) * (Math.PI / 180))) * 0.095) / 2;

/** Frames of tree.avi before the hand. */
const FOLIAGE_FRAMES = 53;
/** How often the foliage is passed through, forwards and backwards in turn. */
const PASSES = 6;
const PEOPLE = { width: 768, height: 576, frames: 795, rate: 10 };

/**
 * Writes a clip of real foliage with real movers in it: the foliage frames of tree.avi, forwards and backwards, with
 * people of vtest.avi pasted in at the size of a wren. They move as they did, at their own pace.
 */
export async function writeWrenClip(dir: string, footage: Footage): Promise<void> {
  const recorded = frameTimes(footage.tree);
  const order = backAndForth(FOLIAGE_FRAMES, PASSES);
  const times = [0];
  for (let k = 1; k < order.length; k++) {
    times.push(times[k - 1]! + Math.abs(recorded[order[k]!]! - recorded[order[k - 1]!]!));
  }

  const tree = await readFilm(footage.tree, wrenFrame.width, wrenFrame.height, upTo(FOLIAGE_FRAMES));
  const frames = order.map((n) => Uint8Array.from(tree.frames.get(n)!));
  const visits = await pasteVisitors(footage.people, frames, times);

  await mkdir(join(dir, 'frames'), { recursive: true });
  for (const [k, pixels] of frames.entries()) {
    await sharp(pixels, { raw: { ...wrenFrame, channels: 3 } })
      .png({ compressionLevel: 1 })
      .toFile(join(dir, 'frames', `${k}.png`));
  }
  await writeFile(join(dir, 'clip.json'), JSON.stringify({ version: 1, frames: 'frames/*.png', times }));
  await writeFile(join(dir, 'labels.json'), JSON.stringify({ version: 1, visits }));
}

/** Puts every visitor into the frames it is in view in; a visit lasts from the first of them to the last. */
async function pasteVisitors(file: string, frames: Uint8Array[], times: number[]): Promise<object[]> {
  const plans = visitors.map((visitor) => {
    const [first, last] = visitor.frames;
    const start = times[visitor.appears]!;
    const shown: { frame: number; source: number }[] = [];
    for (let frame = visitor.appears; frame < frames.length; frame++) {
      const source = first + Math.round((times[frame]! - start) * PEOPLE.rate);
      if (source > last) break;
      shown.push({ frame, source });
    }
    return { visitor, shown };
  });
  const forScene = upTo(PEOPLE.frames).filter((n) => n % 25 === 0);
  const needed = new Set([...forScene, ...plans.flatMap(({ shown }) => shown.map(({ source }) => source))]);
  const film = await readFilm(
    file,
    PEOPLE.width,
    PEOPLE.height,
    [...needed].sort((a, b) => a - b),
  );
  const scene = emptyScene(film, forScene);

  return plans.map(({ visitor, shown }) => {
    const [from, to] = visitor.middle;
    const [first, last] = visitor.frames;
    for (const { frame, source } of shown) {
      const share = (source - first) / (last - first);
      const x = from[0] + share * (to[0] - from[0]);
      const y = from[1] + share * (to[1] - from[1]);
      const target = { pixels: frames[frame]!, width: wrenFrame.width };
      const figure = figureAt(film, source, scene, x, y);
      mustStand(figure, film.width, visitor.height, source);
      paste(target, film, source, figure, WREN_PIXELS / visitor.height, from, visitor.place);
    }
    const end = times[shown.at(-1)!.frame]!;
    return { start: times[visitor.appears]!, end, type: 'animal', name: 'wren' };
  });
}

/** A figure cut in half, or two run into one, would make visits of another size than the labels claim. */
function mustStand(figure: readonly number[], width: number, height: number, frame: number): void {
  const rows = figure.map((at) => Math.floor(at / width));
  const tall = Math.max(...rows) - Math.min(...rows) + 1;
  if (Math.abs(tall / height - 1) > 0.15) {
    throw new Error(`frame ${frame}: expected a figure about ${height} pixels tall, found ${tall}`);
  }
}

/** 0, 1, ... n-1, n-2, ... 0, 1, ... with neither end doubled. */
function backAndForth(n: number, passes: number): number[] {
  return upTo(passes * (n - 1) + 1).map((k) => {
    const at = k % (2 * (n - 1));
    return at < n ? at : 2 * (n - 1) - at;
  });
}

function upTo(n: number): number[] {
  return Array.from({ length: n }, (_, k) => k);
}
