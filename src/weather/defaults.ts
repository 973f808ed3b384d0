import { assumptionOf } from './assumptions.js';
import type { Geometry, Optics } from './setup.js';

/** Taken where neither clip.json nor camera.json says; listed in the output where they are used. */
export const defaultGeometry: Geometry = {
  hfov: 62.2,
  subject: 2,
  foliage: 2.5,
  height: 1,
  mount: 'post',
  cover: false,
};

/** A small sensor of 1.4 um pixels (board maker's documentation: full well 4.3 ke-), at most 1/30 s and eightfold gain. */
export const defaultOptics: Optics = {
  longest: assumptionOf('longest exposure').figure,
  mostGain: assumptionOf('most gain').figure,
  fullWell: assumptionOf('full well').figure,
  readNoise: assumptionOf('read noise').figure,
};
