import type { Camera } from '../camera/description.js';
import type { Settings } from '../camera/settings.js';
import { photosFor } from '../camera/timing.js';
import { type Clip, frames } from '../clip/open.js';
import type { Polygon } from '../engine/mask.js';
import { replayClip } from '../measure/replay.js';
import { labelOf } from '../score/label-of.js';
import { type Judged, judgeAll } from '../score/replayed.js';
import { holds } from '../score/stretches.js';
import { truthOf } from '../score/truth.js';
import type { Cache } from '../store/cache.js';
import { clock } from '../words/ratios.js';
import type { Box } from './canvas.js';
import { privacyAt } from './people.js';
import { frameAt, seenAt } from './seen.js';
import { drawSheet, type Tile } from './sheet.js';

/** The moment of a clip that a tile shows. */
interface Moment {
  time: number;
  caption: string;
  box?: Box;
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
  missed: 'Missed: an animal was there, and no photo shows it',
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
  const alone = (time: number) => privacyAt(clip.labels, [time], true).kind === 'nobody';
  const photos = triggers.flatMap(({ verdict, visit, photos: taken }) => {
    const of = verdict === 'true' && visit !== null ? visits[visit] : undefined;
    return of ? taken.filter((time) => holds(of, time)).map((time) => ({ time, visit: of })) : [];
  });
  const misses = visits
    .filter((v) => !v.caught)
    .map((visit) => ({ time: (visit.start + visit.end) / 2, visit }));
  const nothing = triggers.find((t) => t.verdict === 'false' && alone(t.photos[0]!));
  return {
    caught: await clearest(
      clip,
      photos.filter(({ time }) => alone(time)),
    ),
    missed: await clearest(
      clip,
      misses.filter(({ time }) => alone(time)),
    ),
    nothing: nothing ? { time: nothing.photos[0]!, caption: `nothing ${clock(nothing.photos[0]!)}` } : null,
  };
}

/** Of several moments of visits the one that shows most of the animal. */
async function clearest(
  clip: Clip,
  moments: readonly { time: number; visit: Judged['visits'][number] }[],
): Promise<Moment | null> {
  let best: (Moment & { share: number }) | null = null;
  for (const { time, visit } of moments) {
    const went = labelOf(clip.labels, visit)?.box;
    const { box, share } = await seenAt(clip, time, visit, went);
    if (best && best.share >= share) continue;
    const around = box ?? went;
    best = {
      time,
      caption: `${visit.name ?? 'animal'} ${clock(time)}`,
      share,
      ...(around && { box: around }),
    };
  }
  return best;
}

async function tileOf(clip: Clip, moment: Moment | null): Promise<Tile> {
  if (!moment) return { caption: `${clip.dir}: none`, picture: null };
  for await (const frame of frames(clip, [frameAt(clip, moment.time)], {
    minWidth: clip.width,
    minHeight: clip.height,
  })) {
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
