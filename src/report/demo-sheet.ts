import type { Camera } from '../camera/description.js';
import type { Settings } from '../camera/settings.js';
import { photosFor } from '../camera/timing.js';
import { type Clip, frames } from '../clip/open.js';
import type { Polygon } from '../engine/mask.js';
import { replayClip } from '../measure/replay.js';
import { judgeAll } from '../score/replayed.js';
import { truthOf } from '../score/truth.js';
import type { Cache } from '../store/cache.js';
import { clock } from '../words/ratios.js';
import { privacyAt } from './people.js';
import { drawSheet, type Tile } from './sheet.js';

/** The moment of a clip that a tile shows. */
interface Moment {
  time: number;
  caption: string;
  box?: readonly [number, number, number, number];
}

/** Three rows of pictures, a column for each clip: a visit caught, a visit missed, a photo of nothing; none with people. */
export async function demoSheet(
  groups: readonly { settings: Settings & { mask?: Polygon[] }; clips: readonly { clip: Clip }[] }[],
  camera: Camera,
  cache: Cache,
): Promise<Uint8Array> {
  const columns = [];
  for (const { settings, clips } of groups) {
    for (const { clip } of clips) {
      columns.push({ clip, moments: await momentsOf(clip, camera, settings, cache) });
    }
  }
  const drawn = [];
  for (const kind of ['caught', 'missed', 'nothing'] as const) {
    const tiles: Tile[] = [];
    for (const { clip, moments } of columns) tiles.push(await tileOf(clip, moments[kind]));
    drawn.push({ heading: headings[kind], tiles });
  }
  return drawSheet(drawn);
}

const headings = {
  caught: 'Caught: the photo it would have taken',
  missed: 'Missed: an animal was there, and no photo shows it (framed: where it went)',
  nothing: 'Fired falsely: wind, rain, light, insects',
};

async function momentsOf(
  clip: Clip,
  camera: Camera,
  settings: Settings & { mask?: Polygon[] },
  cache: Cache,
) {
  const times = await replayClip(clip, camera, { ...settings, warnings: [] }, { cache });
  const truth = clip.labels && truthOf(clip.labels, clip.seconds);
  const { triggers, visits } = judgeAll(times, (time) => photosFor(camera, time), truth);
  const boxAt = (start: number) =>
    clip.labels?.visits.find((v) => v.type === 'animal' && v.start === start)?.box;
  const moment = (time: number, what: string, start?: number): Moment => {
    const box = start === undefined ? undefined : boxAt(start);
    return { time, caption: `${what} ${clock(time)}`, ...(box && { box }) };
  };
  const alone = (time: number) => privacyAt(clip.labels, [time], true).kind === 'nobody';
  const right = triggers.find((t) => t.verdict === 'true' && alone(t.photos[0]!));
  const caught = right && visits[right.visit as number];
  const missed = visits.find((v) => !v.caught && alone((v.start + v.end) / 2));
  const nothing = triggers.find((t) => t.verdict === 'false' && alone(t.photos[0]!));
  return {
    caught: right && caught ? moment(right.photos[0]!, caught.name ?? 'animal') : null,
    missed: missed ? moment((missed.start + missed.end) / 2, missed.name ?? 'animal', missed.start) : null,
    nothing: nothing ? moment(nothing.photos[0]!, 'nothing') : null,
  };
}

async function tileOf(clip: Clip, moment: Moment | null): Promise<Tile> {
  if (!moment) return { caption: `${clip.dir}: none`, picture: null };
  const after = clip.times.findIndex((time) => time >= moment.time - 1e-9);
  const index = after < 0 ? clip.times.length - 1 : after;
  for await (const frame of frames(clip, [index], { minWidth: clip.width, minHeight: clip.height })) {
    return {
      caption: moment.caption,
      picture: { rgb: asRgb(frame.pixels, frame.channels), width: frame.width, height: frame.height },
      ...(moment.box && { box: moment.box }),
    };
  }
  return { caption: moment.caption, picture: null };
}

function asRgb(pixels: Uint8Array, channels: 1 | 3): Uint8Array {
  if (channels === 3) return pixels;
  const rgb = new Uint8Array(pixels.length * 3);
  for (let i = 0; i < pixels.length; i++) rgb.fill(pixels[i]!, 3 * i, 3 * i + 3);
  return rgb;
}
