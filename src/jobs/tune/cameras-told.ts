import type { AgainstFirst, CameraVerdict, Taken } from '../../tune/cameras.js';
import type { Choice } from '../../tune/site-result.js';
import type { Tells } from '../../tune/tells.js';
import type { BatteryTold } from './lasts.js';

/** On footage left out, with settings chosen without it. */
export interface LeftOut extends Taken {
  how: 'leave one clip out' | 'blocks of time';
  /** Null: this is the first. */
  against: AgainstFirst | null;
}

/** What a camera does at one site, with its dials alone: without a new mask. */
export interface CameraAtSite {
  site: string | null;
  tells: Tells;
  choice: Choice;
  /** How long its battery lasts with that, photos at visits too, by power in its file. */
  battery: Pick<BatteryTold['sites'][number], 'hours' | 'photosPerHour'>;
  /** On these clips, visit by visit; null: this is the first. */
  against: AgainstFirst | null;
  /** Null: there is one clip only, which cannot be cut. */
  leftOut: LeftOut | null;
  /** By what was left out; null: this is the first. */
  verdict: CameraVerdict | null;
}

/** One of the cameras, the first of them the one that all others are held against. */
export interface CameraTold {
  /** Its name; where several have the same, its file. */
  camera: string;
  file: string | null;
  width: number;
  height: number;
  rate: number;
  /** Pixels that it compares a second, as it is described; and how many times as many as the first that is. */
  pixelsPerSecond: number;
  work: number;
  /** Groups of settings that were tried, and whether these are all that its dials give. */
  searched: number;
  triesAll: boolean;
  sites: CameraAtSite[];
  /** At all sites together. */
  leftOut: Omit<LeftOut, 'how'> | null;
  verdict: CameraVerdict | null;
}

/** Which of the cameras would serve best. */
export interface WhichCamera {
  /** The one that promises most on all of the footage, by the goal. */
  best: string;
  /** What comes of choosing a camera so, on footage that it was not chosen on; null: nothing could be left out. */
  chosenAnew: (Taken & { against: AgainstFirst; times: { camera: string; times: number }[] }) | null;
  /** Whether that serves better than the first; 'keep': the first promises most itself. */
  verdict: CameraVerdict | 'keep';
  /** The camera that compares the fewest pixels, fewer than the first, and serves as well; null: none is shown to. */
  enough: string | null;
  /** Whether all have the same figures in power, so that what a smaller comparison saves is not known. */
  samePower: boolean;
}

export interface CamerasCompared {
  cameras: CameraTold[];
  whichCamera: WhichCamera;
}

/** The comparison in what tuning found; undefined: there was one camera. */
export function comparedIn({ cameras, whichCamera }: Partial<CamerasCompared>): CamerasCompared | undefined {
  return cameras && whichCamera && { cameras, whichCamera };
}
