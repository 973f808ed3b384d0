import { between, chance, pick, type Random } from '../../base/random.js';
import type { Spot, Ways } from '../sites/site.js';
import type { Pose } from './bird.js';
import type { Species } from './species.js';

/** One thing an animal does, seconds from the clip's start. */
export interface Move {
  start: number;
  end: number;
  from: Spot;
  to: Spot;
  does: 'fly' | 'hop' | 'walk' | 'stand' | 'peck';
  facing: 1 | -1;
}

/** Half the view's width at one metre, for a lens of 62.2 degrees, and a little beyond it. */
const beside = 0.603;

/** What an animal does from the moment it comes to the moment it goes, for about `seconds`. */
export function behave(species: Species, ways: Ways, start: number, seconds: number, r: Random): Move[] {
  const moves: Move[] = [];
  let here = beyond(species, ways, r);
  let t = start;
  let facing: 1 | -1 = 1;
  const go = (to: Spot, does: Move['does'], pace: number) => {
    const far = Math.hypot(to.x - here.x, to.y - here.y, to.z - here.z);
    if (far < 1e-6) return;
    if (Math.abs(to.x - here.x) > 0.02) facing = to.x > here.x ? 1 : -1;
    const took = far / pace;
    moves.push({ start: t, end: t + took, from: here, to, does, facing });
    here = to;
    t += took;
  };
  const stay = (does: 'stand' | 'peck', took: number) => {
    if (r() < 0.25) facing = facing === 1 ? -1 : 1;
    moves.push({ start: t, end: t + took, from: here, to: here, does, facing });
    t += took;
  };
  const foot = species.gait === 'hop' ? 'hop' : 'walk';
  const byAir = species.flies && r() < 0.8;
  const hide = ways.hides.length > 0 && !byAir && r() < 0.6 ? pick(r, ways.hides) : undefined;
  const hurry = seconds < 3;
  const pace = species.pace * (hurry ? 1.5 : between(r, 0.8, 1.2));
  if (hide) {
    here = hide[0];
    go(hide[1], foot, pace);
    go(somewhere(ways, r), foot, pace);
  } else if (byAir) {
    go(
      species.perches && r() < 0.5 ? pick(r, ways.perches) : somewhere(ways, r),
      'fly',
      between(r, 2.5, 4.5),
    );
  } else {
    here = { ...here, y: 0, x: Math.sign(here.x) * (beside * here.z + species.length) };
    go(somewhere(ways, r), foot, pace);
  }
  const leaving = byAir ? 0.4 : (beside * here.z * 0.7) / pace;
  while (t < start + seconds - leaving) {
    const left = start + seconds - leaving - t;
    const what = r();
    if (what < 0.36) stay('stand', Math.min(left, between(r, 0.8, 7)));
    else if (what < 0.6) stay('peck', Math.min(left, between(r, 0.8, 3.5)));
    else if (what < 0.92 || !species.perches) go(nearby(here, ways, r), foot, pace);
    else go(pick(r, ways.perches), 'fly', between(r, 1.5, 3));
  }
  const out = beyond(species, ways, r);
  if (byAir) go(out, 'fly', between(r, 3, 5));
  else if (hide) {
    go(hide[1], foot, pace * 1.3);
    go(hide[0], foot, pace);
  } else go({ x: Math.sign(out.x) * (beside * here.z + species.length), y: 0, z: here.z }, foot, pace * 1.3);
  return moves;
}

function somewhere(ways: Ways, r: Random): Spot {
  const { half, near, far } = ways.ground;
  const z = between(r, near, far);
  return { x: between(r, -half, half) * z * 0.8, y: 0, z };
}

function nearby(here: Spot, ways: Ways, r: Random): Spot {
  const { half, near, far } = ways.ground;
  const step = between(r, 0.05, 0.4);
  const turn = between(r, 0, 2 * Math.PI);
  const z = Math.min(far, Math.max(near, here.z + 0.6 * step * Math.sin(turn)));
  const x = Math.min(half * z, Math.max(-half * z, here.x + step * Math.cos(turn)));
  return { x, y: 0, z };
}

function beyond(species: Species, ways: Ways, r: Random): Spot {
  const z = between(r, ways.ground.near, ways.ground.far);
  const side = r() < 0.5 ? -1 : 1;
  return { x: side * (beside * z + 1.2 * species.length), y: between(r, 0.2, 0.8), z };
}

/** Where an animal is and how it holds itself, at second t. */
export interface Stance extends Spot {
  facing: 1 | -1;
  pose: Pose;
  /** Metres per second, to the right and up. */
  vx: number;
  vy: number;
}

/** undefined before it comes and after it has gone. */
export function stance(moves: readonly Move[], t: number, id: number): Stance | undefined {
  const m = moves.find((move) => t >= move.start && t < move.end);
  if (!m) return undefined;
  const u = (t - m.start) / (m.end - m.start);
  // The head turns now and then, and a peck comes and goes, on a beat of its own.
  const beat = Math.floor(t * 1.4 + chance(id, 0, 0));
  const turned = chance(id, beat, 1) < 0.2;
  const base = { facing: m.facing, vx: 0, vy: 0 };
  if (m.does === 'stand') return { ...base, ...m.from, pose: { kind: 'stand', beat: 0, turned } };
  if (m.does === 'peck') {
    const down = chance(id, Math.floor(t * 2.6), 2) < 0.6;
    return { ...base, ...m.from, pose: { kind: down ? 'peck' : 'stand', beat: 0, turned: false } };
  }
  const pace = (m.to.x - m.from.x) / (m.end - m.start);
  if (m.does === 'fly') {
    const at = along(m, u);
    const rise = 0.12 * 4 * u * (1 - u);
    const vy = (m.to.y - m.from.y) / (m.end - m.start);
    return {
      ...base,
      ...at,
      y: at.y + rise,
      vx: pace,
      vy,
      pose: { kind: 'fly', beat: Math.sin(t * 83), turned: false },
    };
  }
  if (m.does === 'walk') {
    return {
      ...base,
      ...along(m, u),
      vx: pace,
      pose: { kind: 'run', beat: Math.sin(t * 21), turned: false },
    };
  }
  // Hops of about 0.35 s: a leap for the first half, then a halt.
  const hops = Math.max(1, Math.round((m.end - m.start) / 0.35));
  const hop = Math.floor(u * hops);
  const leap = Math.min(1, (u * hops - hop) * 2);
  const high = 0.035 * 4 * leap * (1 - leap);
  const at = along(m, (hop + leap) / hops);
  return {
    ...base,
    ...at,
    y: at.y + high,
    vx: leap < 1 ? pace * 2 : 0,
    pose: { kind: 'stand', beat: 0, turned: false },
  };
}

function along(m: Move, u: number): Spot {
  return {
    x: m.from.x + (m.to.x - m.from.x) * u,
    y: m.from.y + (m.to.y - m.from.y) * u,
    z: m.from.z + (m.to.z - m.from.z) * u,
  };
}
