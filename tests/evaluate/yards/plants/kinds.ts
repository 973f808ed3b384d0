import { Bramble } from './bramble.js';
import { Fern } from './fern.js';
import { Grass } from './grass.js';
import { Hedge } from './hedge.js';
import type { Plant, Soil } from './plant.js';
import { Reeds } from './reeds.js';
import { Twigs } from './twigs.js';

/** Every kind of plant, by name. */
export const plantKinds = {
  grass: (soil: Soil): Plant => new Grass(soil),
  twigs: (soil: Soil): Plant => new Twigs(soil),
  hedge: (soil: Soil): Plant => new Hedge(soil),
  reeds: (soil: Soil): Plant => new Reeds(soil),
  bramble: (soil: Soil): Plant => new Bramble(soil),
  fern: (soil: Soil): Plant => new Fern(soil),
};
export const plantNames = Object.keys(plantKinds) as (keyof typeof plantKinds)[];
