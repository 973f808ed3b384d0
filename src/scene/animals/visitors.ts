import { between, type Random, random, shuffled } from '../../base/random.js';
import type { Garden } from '../garden.js';
import { pictureX, pictureY } from '../lens.js';
import type { SceneSpec, SpeciesName } from '../spec.js';
import { behave, type Move, stance } from './behaviour.js';
import { allSpecies, type Species } from './species.js';
import { drawSprite, type Sprite } from './sprite.js';

/** One animal of a visit. It is drawn in frames first..last only, which truth.ts sets. */
export interface Animal {
  species: Species;
  moves: Move[];
  id: number;
  first: number;
  last: number;
}

export interface Visitors {
  name: SpeciesName;
  animals: Animal[];
}

/** Who comes when: one visit in each equal part of the time that no person is about. */
export function planVisits(spec: SceneSpec, garden: Garden): Visitors[] {
  const seed = spec.seeds?.visits ?? spec.seed;
  const r = random(seed, 'visits');
  const names = shuffled(r, whoComes(spec));
  const from = spec.person?.start ? spec.person.start + 6 : 1;
  const until = spec.seconds - (spec.person?.end ? spec.person.end + 4 : 1);
  const part = Math.max(0, until - from) / Math.max(1, names.length);
  const lengths = names.map((_, i) => stayLength(i, r));
  const stays = shuffled(r, lengths);
  return names.map((name, i) => {
    const own = random(seed, `visit ${i}`);
    const species = allSpecies[name];
    const start = from + (i + between(own, 0.05, 0.5)) * part;
    const stay = Math.min(
      species.pace < 0.3 ? Math.max(12, stays[i]!) : stays[i]!,
      Math.max(1, until - start),
    );
    const count = species.flock > 1 && own() < 0.4 ? 2 + Math.floor(own() * (species.flock - 1)) : 1;
    const animals = Array.from({ length: count }, (_, n) => ({
      species,
      moves: behave(species, garden.ways, start + (n === 0 ? 0 : between(own, 0, 3)), stay, own),
      id: Math.floor(own() * 0x7fffffff),
      first: 0,
      last: -1,
    }));
    return { name, animals };
  });
}

/** A quarter pass in a second or two, a quarter stay for half a minute. */
function stayLength(i: number, r: Random): number {
  const kind = i % 4;
  return kind === 0 ? between(r, 0.9, 2.2) : kind === 1 ? between(r, 20, 36) : between(r, 4, 13);
}

/** Shares to whole visits by largest remainder. */
function whoComes(spec: SceneSpec): SpeciesName[] {
  const entries = Object.entries(spec.visits?.species ?? {}) as [SpeciesName, number][];
  const shares = entries.reduce((sum, [, n]) => sum + n, 0);
  const perHour = spec.visits?.perHour;
  const total = perHour === undefined ? Math.round(shares) : Math.round((perHour * spec.seconds) / 3600);
  const exact = entries.map(([name, n]) => ({ name, want: (n / Math.max(1e-9, shares)) * total }));
  const out = exact.flatMap(({ name, want }) => Array.from({ length: Math.floor(want) }, () => name));
  const rest = exact.toSorted((a, b) => (b.want % 1) - (a.want % 1));
  for (let i = 0; out.length < total && i < rest.length; i++) out.push(rest[i]!.name);
  return out;
}

/** The picture of an animal at second t and its distance, or undefined when it is not there. */
export function portray(a: Animal, t: number, exposure: number, garden: Garden) {
  const s = stance(a.moves, t, a.id);
  if (!s) return undefined;
  const { lens } = garden;
  const scale = lens.focal / s.z;
  const x = pictureX(lens, s.x, s.z);
  const y = pictureY(lens, s.y, s.z);
  const smear = exposure * scale;
  const sprite: Sprite = drawSprite(
    a.species.parts(s.pose),
    x,
    y,
    a.species.length * scale,
    s.facing,
    s.vx * smear,
    -s.vy * smear,
  );
  return { sprite, x, y, z: s.z, size: a.species.length * scale, onGround: s.y < 0.01 };
}
