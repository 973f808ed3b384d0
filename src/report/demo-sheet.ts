import type { Camera } from '../camera/description.js';
import { drawMask } from '../camera/mask.js';
import type { Settings } from '../camera/settings.js';
import { photosFor } from '../camera/timing.js';
import { type Clip, frames } from '../clip/open.js';
import type { Polygon } from '../engine/mask.js';
import { replayClip } from '../measure/replay.js';
import { labelOf } from '../score/label-of.js';
import { type Judged, type JudgedTrigger, judgeAll } from '../score/replayed.js';
import { holds } from '../score/stretches.js';
import { truthOf } from '../score/truth.js';
import type { Cache } from '../store/cache.js';
import { clock } from '../words/ratios.js';
import type { Box } from './canvas.js';
import { privacyAt } from './people.js';
import { firedBoxes } from './pictures.js';
import { frameAt, seenAt } from './seen.js';
import { drawSheet, type Tile } from './sheet.js';

/** The moment of a clip that a tile shows. */
interface Moment {
  time: number;
  caption: string;
  box?: Box;
  framed?: boolean;
}

const kinds = ['caught', 'missed', 'nothing'] as const;

/** The moments of a clip that tiles may show, those first that show most. */
type Moments = Record<(typeof kinds)[number], Moment[]>;

/**
 * Three rows of pictures, as many in each as there are clips: visits caught, visits missed, photos of nothing; none with
 * people. Where a clip has none of a kind, others show one more.
 */
export async function demoSheet(
  groups: readonly { settings: Settings & { mask?: Polygon[] }; clips: readonly { clip: Clip }[] }[],
  camera: Camera,
  cache: Cache,
): Promise<Uint8Array> {
  const columns: { clip: Clip; moments: Moments }[] = [];
  for (const { settings, clips } of groups) {
    for (const { clip } of clips) {
      columns.push({ clip, moments: await momentsOf(clip, camera, settings, cache) });
    }
  }
  const drawn = [];
  for (const kind of kinds) {
    const tiles: Tile[] = [];
    for (const { clip, moment } of takenInTurn(columns, kind)) tiles.push(await tileOf(clip, moment));
    if (tiles.length > 0) drawn.push({ heading: headings[kind], tiles });
  }
  return drawSheet(drawn);
}

const headings = {
  caught: 'Caught: the photo it would have taken',
  missed: 'Missed: an animal was there, and no photo shows it',
  nothing: 'Fired falsely: wind, rain, light, insects',
};

/** One moment of each clip, then a second one of each and so on until there are as many as clips; in the order of the clips. */
function takenInTurn(columns: readonly { clip: Clip; moments: Moments }[], kind: (typeof kinds)[number]) {
  return columns
    .flatMap(({ clip, moments }, place) =>
      moments[kind].map((moment, turn) => ({ clip, moment, place, turn })),
    )
    .sort((a, b) => a.turn - b.turn || a.place - b.place)
    .slice(0, columns.length)
    .sort((a, b) => a.place - b.place || a.turn - b.turn);
}

async function momentsOf(
  clip: Clip,
  camera: Camera,
  settings: Settings & { mask?: Polygon[] },
  cache: Cache,
): Promise<Moments> {
  const times = await replayClip(clip, camera, { ...settings, warnings: [] }, { cache });
  const truth = clip.labels && truthOf(clip.labels, clip.seconds);
  const { triggers, visits } = judgeAll(times, (time) => photosFor(camera, time), truth);
  const alone = (time: number) => privacyAt(clip.labels, [time], { animal: true }).kind === 'nobody';
  const photos = triggers.flatMap(({ verdict, visit, photos: taken }) => {
    const of = verdict === 'true' && visit !== null ? visits[visit] : undefined;
    return of ? taken.filter((time) => holds(of, time)).map((time) => ({ time, visit: of })) : [];
  });
  const misses = visits
    .filter((v) => !v.caught)
    .map((visit) => ({ time: (visit.start + visit.end) / 2, visit }));
  const clear = (moments: typeof photos) =>
    clearest(
      clip,
      moments.filter(({ time }) => alone(time)),
    );
  const nothing = triggers.filter((t) => t.verdict === 'false' && alone(t.photos[0]!));
  return {
    caught: await clear(photos),
    missed: await clear(misses),
    nothing: await ofNothing(clip, camera, settings, nothing.slice(0, MOST_OF_NOTHING)),
  };
}

/** Photos of nothing of one clip that may be shown. */
const MOST_OF_NOTHING = 3;

/** Photos of nothing, and where in them what fired was. */
async function ofNothing(
  clip: Clip,
  camera: Camera,
  settings: Settings & { mask?: Polygon[] },
  triggers: readonly JudgedTrigger[],
): Promise<Moment[]> {
  const shots = triggers.map(({ time, photos }) => ({
    frame: frameAt(clip, photos[0]!),
    trigger: time,
    caption: `nothing ${clock(photos[0]!)}`,
    box: null,
    privacy: { kind: 'nobody' } as const,
  }));
  const mask = drawMask(settings.mask ?? clip.labels?.mask, camera);
  const fired = await firedBoxes(clip, camera, shots, { mask, threshold: settings.threshold });
  return triggers.map(({ time, photos }, i) => {
    const box = fired.get(time);
    return { time: photos[0]!, caption: shots[i]!.caption, ...(box && { box, framed: true }) };
  });
}

/** Of the moments of each visit the one that shows most of the animal; those first that show most. */
async function clearest(
  clip: Clip,
  moments: readonly { time: number; visit: Judged['visits'][number] }[],
): Promise<Moment[]> {
  const best = new Map<Judged['visits'][number], Moment & { share: number }>();
  for (const { time, visit } of moments) {
    const went = labelOf(clip.labels, visit)?.box;
    const { box, share } = await seenAt(clip, time, visit, went);
    if (share <= (best.get(visit)?.share ?? -1)) continue;
    const around = box ?? went;
    best.set(visit, {
      time,
      caption: `${visit.name ?? 'animal'} ${clock(time)}`,
      share,
      ...(around && { box: around }),
    });
  }
  return [...best.values()].sort((a, b) => b.share - a.share);
}

/** @throws whatever reading the clip throws */
async function tileOf(clip: Clip, { time, caption, box, framed = false }: Moment): Promise<Tile> {
  for await (const frame of frames(clip, [frameAt(clip, time)], {
    minWidth: clip.width,
    minHeight: clip.height,
  })) {
    return {
      caption,
      picture: { rgb: asRgb(frame.pixels, frame.channels), width: frame.width, height: frame.height },
      ...(box && { box, framed }),
    };
  }
  throw new Error(`${clip.dir}: no frame at ${time} s`);
}

function asRgb(pixels: Uint8Array, channels: 1 | 3): Uint8Array {
  if (channels === 3) return pixels;
  const rgb = new Uint8Array(pixels.length * 3);
  for (let i = 0; i < pixels.length; i++) rgb.fill(pixels[i]!, 3 * i, 3 * i + 3);
  return rgb;
}
