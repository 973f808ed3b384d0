import { assumptionOf } from './assumptions.js';
import type { Geometry, Optics } from './setup.js';

/** Taken where neither clip.json nor camera.json says; listed in the output where they are used. */
export const defaultGeometry: Geometry = {
  hfov: assumptionOf('field of view').figure,
  subject: assumptionOf('subject distance').figure,
  foliage: assumptionOf('foliage distance').figure,
  height: assumptionOf('camera height').figure,
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
