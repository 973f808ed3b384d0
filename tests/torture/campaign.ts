import seedrandom from 'seedrandom';
import type { Disk } from '../support/disk.js';
import type { Chance } from './mutate.js';
import { emptiedCache, fullDisk, type Known, killed, mutation, type Trial, twice } from './trials.js';
import type { World } from './world.js';

/** A kind of trial, and its share of the time. */
export type Kind = 'json' | 'bytes' | 'emptied cache' | 'killed' | 'twice' | 'full disk';

/** Runs one trial of a kind; everything random in it follows from the seed. */
export function trial(kind: Kind, world: World, known: Known, disk: Disk, seed: string): Promise<Trial> {
  const chance: Chance = seedrandom(seed);
  switch (kind) {
    case 'json':
    case 'bytes':
      return mutation(world, known, chance, kind);
    case 'emptied cache':
      return emptiedCache(world, known, chance);
    case 'killed':
      return killed(world, known, chance);
    case 'twice':
      return twice(world, known, chance);
    case 'full disk':
      return fullDisk(world, known, chance, disk.path!);
  }
}
