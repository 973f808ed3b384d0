import type { Polygon } from '../engine/mask.js';
import type { Labels, Visit } from '../score/labels.js';
import { gapsBetween, type Stretch, union } from '../score/stretches.js';
import type { Watch } from './animals/visible.js';
import { extent, type Plant } from './foliage.js';
import { inView } from './people.js';
import type { PictureParts } from './picture.js';

type Cause = NonNullable<Labels['causes']>[number];

/** Pixels between frames from which the tip of a limb is said to move, and the gain from which noise shows. */
const windMoves = 0.6;
const noisy = 6;

/**
 * The truth about a scene: visits by what can be seen of each animal and person (this also settles in which frames an
 * animal is drawn), ignored stretches around people, outlines of foliage, and what moved outside visits.
 */
export function labelScene(parts: PictureParts, watch: Watch): Labels {
  const { garden, frames, rate } = parts;
  const end = frames / rate;
  const visits: Visit[] = [];
  for (const { name, animals } of parts.visitors) {
    for (const a of animals) watch.time(a);
    const seen = animals.filter((a) => a.last >= a.first);
    if (seen.length === 0) continue;
    visits.push({
      start: Math.min(...seen.map((a) => a.first)) / rate,
      end: Math.max(...seen.map((a) => a.last)) / rate,
      type: 'animal',
      name,
      count: seen.length,
      box: watch.box(seen),
    });
  }
  for (const p of parts.people) {
    const seen = inView(p, rate, frames, garden.width, garden.height);
    if (seen) visits.push({ start: seen[0] / rate, end: seen[1] / rate, type: 'human', count: 1 });
  }
  visits.sort((a, b) => a.start - b.start || a.end - b.end);
  const ignored = parts.people.map((p) => ({
    start: p.start,
    end: Math.min(end, p.end),
    why: p.arrives ? 'taking down' : 'setting up',
  }));
  return {
    version: 1,
    visits,
    ...(ignored.length > 0 ? { ignored } : {}),
    foliage: outlines(garden.plants, garden.width, garden.height),
    causes: outside(causesOf(parts), visits, end),
  };
}

function causesOf(parts: PictureParts): Cause[] {
  const { frames, rate, garden, sway, light } = parts;
  const columns = garden.oscillators.length;
  const blown = (k: number) =>
    k > 0 &&
    garden.plants.some((p) => {
      const q = sway[k * columns + p.column]! - sway[(k - 1) * columns + p.column]!;
      const reach = p.kind === 'bough' ? p.reach : Math.max(...p.blades.map((b) => b.reach));
      return Math.abs(q) * reach > windMoves;
    });
  const all = (cause: Cause['cause'], list: readonly Stretch[]) =>
    list.map(({ start, end }) => ({ start, end, cause }));
  return [
    ...all('wind', stretchesOf(frames, rate, 2, blown)),
    ...all('rain', parts.rain.rate > 0 ? [{ start: 0, end: frames / rate }] : []),
    ...all('light', light.changes),
    ...all(
      'noise',
      stretchesOf(frames, rate, 0.5, (k) => light.gain[k]! >= noisy),
    ),
    ...all('shadow', parts.shadows),
    ...all('shake', parts.shakes),
    // An insect changes the frame after its last one too, by having gone.
    ...all(
      'insect',
      parts.insects.map((n) => ({ start: n.frame / rate, end: (n.frame + n.frames) / rate })),
    ),
  ];
}

/** Stretches in which `moved` holds, one frame apart or less than `join` seconds. */
export function stretchesOf(
  frames: number,
  rate: number,
  join: number,
  moved: (frame: number) => boolean,
): Stretch[] {
  const out: Stretch[] = [];
  for (let k = 0; k < frames; k++) {
    if (!moved(k)) continue;
    const last = out.at(-1);
    if (last && k / rate - last.end <= join) last.end = k / rate;
    else out.push({ start: Math.max(0, k - 1) / rate, end: k / rate });
  }
  return out;
}

/** Causes as they are labelled: inside the clip, outside visits, in order. */
export function outside(causes: readonly Cause[], visits: readonly Stretch[], end: number): Cause[] {
  const taken = union(visits);
  const out: Cause[] = [];
  for (const c of causes) {
    const pieces = gapsBetween(taken, Math.max(0, c.start), Math.min(end, c.end));
    for (const p of pieces) if (p.end > p.start) out.push({ ...p, cause: c.cause });
  }
  return out.sort((a, b) => a.start - b.start || a.end - b.end);
}

/** One outline for each group of plants: the convex hull of all their parts, in fractions of the frame. */
export function outlines(plants: readonly Plant[], width: number, height: number): Polygon[] {
  const groups = new Map<string, [number, number][]>();
  for (const p of plants) groups.set(p.group, [...(groups.get(p.group) ?? []), ...extent(p)]);
  return [...groups.values()].map((points) =>
    hull(points).map(([x, y]) => [clamp(x / width), clamp(y / height)] as [number, number]),
  );
}

function clamp(x: number): number {
  return Math.round(Math.min(1, Math.max(0, x)) * 1e4) / 1e4;
}

/** Convex hull by monotone chain (Andrew 1979). */
function hull(points: [number, number][]): [number, number][] {
  const sorted = points.toSorted((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list: [number, number][]) => {
    const out: [number, number][] = [];
    for (const p of list) {
      while (out.length > 1 && turn(out.at(-2)!, out.at(-1)!, p) <= 0) out.pop();
      out.push(p);
    }
    return out.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.toReversed())];
}

function turn(a: [number, number], b: [number, number], c: [number, number]): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}
