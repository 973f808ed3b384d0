import { random } from '../../base/random.js';
import type { Camera } from '../../camera/description.js';
import type { Labels } from '../../score/labels.js';
import { type Looked, lookedAt, orderToLook, quietStretches } from '../../score/quiet-stretches.js';
import { type Stretch, touchesAny, union } from '../../score/stretches.js';
import { truthOf } from '../../score/truth.js';
import { columnsFrom } from '../../sweep/columns.js';
import { dialsOf, Grid, thinned } from '../../sweep/grid.js';
import { Chances } from './chance.js';
import { findMoments, type Moment } from './find.js';
import { type Known, knower, knownTogether } from './known.js';
import { type Row, rowsOf } from './rows.js';
import { tryAll } from './tries.js';
import { type Value, valueOfAnswers } from './value.js';
import { asVisit } from './visits.js';

/** More combinations of dials than this are thinned before they are weighed. */
const MOST_SETTINGS = 4000;
/** Below what one photo of nothing is worth nobody need look. */
const NOT_WORTH_ASKING = 1;
/** How likely the rest may still be to change the choice by that much, where it is enough. */
const UNLIKELY = 0.05;

export interface AskedRow extends Row {
  /** What the labels say; null where they say nothing of one of the members, 'animal' where one of them is. */
  known: Known;
  /** Photos of nothing that knowing it is worth on average, by itself; 0 where it is known. */
  worth: number;
}

/** What to ask the owner of a clip, and what is known already. */
export interface Asked {
  moments: Moment[];
  /** In order of time. */
  rows: AskedRow[];
  /** Places of the unknown rows, first those whose label may change the choice most. */
  order: number[];
  /**
   * Whether to go on: settled where no label left can change the choice; enough where all of them together are on average
   * worth less than one photo of nothing, and worth that or more in no more than one case of twenty.
   * Both take each row as a visit of its own, while moments close to one another become one visit. On the demo's six scenes,
   * by all answers in the end, stopping at the first 'enough' lost nothing on three and 4 photos of nothing on three;
   * 'settled' lost 4 on one.
   */
  verdict: 'go on' | 'enough' | 'settled';
  /** What knowing all of the rest is worth on average, photos of nothing. */
  worthOfAll: number;
  /** The dials that are worth most by what is known and likely. */
  controls: Record<string, number>;
  quiet: {
    stretches: Stretch[];
    /** What labels say of each. */
    known: Known[];
    /** Places of those that nobody looked through yet, as drawn. */
    order: number[];
    /** What was looked through of them; an animal is one that no moment shows. */
    looked: Looked;
  };
}

export interface MomentClip {
  levels: readonly number[];
  times: Float64Array;
  changed: ReadonlyMap<number, Uint32Array>;
  region: ReadonlyMap<number, Uint32Array>;
}

/**
 * What is worth asking about a clip.
 * @param photos of nothing that one more visit is worth
 * @param seed of the draws: the clip's name
 * @throws Problem 'bad-settings' for a camera without dials to choose
 */
export async function whatToAsk(
  clip: MomentClip,
  camera: Camera,
  labels: Labels,
  seconds: number,
  photos: number,
  seed: string,
): Promise<Asked> {
  const dials = dialsOf(camera);
  const grid = new Grid(camera, thinned(dials, MOST_SETTINGS));
  const areas = dials.find(({ sets }) => sets === 'minimumArea')!.values;
  const { times, levels } = clip;
  const { moments } = findMoments({ levels, times, area: clip[camera.area] }, areas);
  const tells = knower(labels);
  const knownOf = moments.map(tells);
  const rows = rowsOf(moments).map((row) => {
    return { ...row, known: knownTogether(row.members.map((member) => knownOf[member] ?? null)) };
  });
  const open = rows.flatMap(({ known }, place) => (known === null ? [place] : []));
  const extents = open.map((place) =>
    rows[place]!.members.flatMap((member) =>
      knownOf[member] === null ? [asVisit(moments[member]!, seconds)] : [],
    ),
  );
  const truth = truthOf(labels, seconds);
  const goal = { kind: 'worth' as const, photos, photosPerTrigger: camera.burst.photos };
  const source = columnsFrom((level, kind) => clip[kind].get(level)!);
  const tries = await tryAll({ ...source, times }, camera, grid, truth, extents, goal);
  const value = valueOfAnswers(
    tries,
    open.map((place) => rows[place]!.sizeClass),
    Chances.from(rows),
    NOT_WORTH_ASKING,
    random(seed, 'moments'),
  );
  const byWorth = open
    .map((_, i) => i)
    .sort((a, b) => {
      const more = value.rows[b]! + value.pulls[b]! - value.rows[a]! - value.pulls[a]!;
      return Math.abs(more) > 1e-9 ? more : a - b;
    });
  const worth = new Map(open.map((place, i) => [place, value.rows[i]!]));
  return {
    moments,
    rows: rows.map((row, place) => ({ ...row, worth: worth.get(place) ?? 0 })),
    order: byWorth.map((i) => open[i]!),
    verdict: value.settled ? 'settled' : isEnough(value) ? 'enough' : 'go on',
    worthOfAll: value.all,
    controls: grid.controlsAt(value.best),
    quiet: quietOf(moments, labels, seconds, seed),
  };
}

function isEnough({ all, changes }: Value): boolean {
  return all < NOT_WORTH_ASKING && changes <= UNLIKELY;
}

function quietOf(moments: readonly Moment[], labels: Labels, seconds: number, seed: string): Asked['quiet'] {
  const shown = union(moments.map((moment) => asVisit(moment, seconds)));
  const stretches = quietStretches(shown, seconds);
  // A visit that a moment shows too is none that evidence misses.
  const hidden = labels.visits.filter((visit) => visit.type === 'animal' && !touchesAny(shown, visit));
  const others = labels.visits.filter((visit) => visit.type !== 'animal');
  const known = stretches.map(knower({ ...labels, visits: [...hidden, ...others] }));
  const drawn = orderToLook(stretches.length, random(seed, 'quiet')).filter(
    (place) => known[place] !== 'set aside' && known[place] !== 'person',
  );
  const order = drawn.filter((place) => known[place] === null);
  return { stretches, known, order, looked: lookedAt(stretches, drawn, labels.reviewed ?? null, hidden) };
}
