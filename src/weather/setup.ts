import type { Doubt } from './assumptions.js';
import type { Size } from './averaging.js';
import type { RainPart } from './rain/rain-part.js';
import type { NoiseLine } from './sensor/noise-line.js';

/** A part of the weather put onto frames, one after the other, in place. */
export interface Effect {
  /**
   * @param picture `width * height` signal values, 0 to 255, rows from the top; not rounded
   * @param time seconds from the clip's start; rises from call to call
   * @param recorded whole grey levels to begin from, in the place of what `picture` holds
   */
  apply(picture: Float32Array, time: number, recorded?: Uint8Array): void;
}

/** What the sensor makes of the light that falls on it: the last of the weather. */
export interface Sensing {
  /**
   * @param picture `width * height` signal values, 0 to 255, rows from the top; as recorded, or not rounded
   * @param out where what it sees is put, rounded
   */
  take(picture: Uint8Array | Float32Array, out: Uint8Array): void;
}

/** Beaufort number, mm/h, lux at the scene; what is left out is not known (of a recording) or stays as it is (of a wish). */
export interface Conditions {
  wind?: number | undefined;
  rain?: number | undefined;
  light?: number | undefined;
}

/** Where the camera hangs and what it looks at; metres, degrees. */
export interface Geometry {
  hfov: number;
  /** To where animals come, and to the foliage. */
  subject: number;
  foliage: number;
  /** Above ground. */
  height: number;
  mount: 'post' | 'tree';
  /** A rain cover before the lens. */
  cover: boolean;
}

/** What the sensor and its exposure can do. */
export interface Optics {
  /** Longest exposure, seconds, and most gain over that of full light. */
  longest: number;
  mostGain: number;
  /** Electrons. */
  fullWell: number;
  readNoise: number;
}

/** What is known of the noise of the sensor. */
export interface SensorNoise {
  /** The size at which noise must come out right: that at which the camera compares frames. */
  at: Size;
  /** The noise that the recording has, measured at that size; null: by the model of `optics`. */
  own: NoiseLine | null;
  /** Whether `optics` has full well as measured; and read noise, which may be too little to tell. */
  measured: boolean;
  readNoise: boolean;
  /** Whether it has the longest exposure and the most gain as measured. */
  limits: boolean;
  /** In words: what was measured on what, or why not. */
  how: readonly Assumed[];
}

/** How what sways moves at a site, as measured there, against what is assumed: factors. */
export interface SiteMotion {
  /** How far branches go, how much leaves flutter, how quickly both go to and fro. */
  branches: number;
  leaves: number;
  rhythm: number;
  /** The power with which flutter grows with the wind. */
  growth: number;
  /** What it rests on, in words. */
  how: string;
  /** Which of the factors what was seen tells; the others stay near what is assumed. Left out: none. */
  told?: readonly ('branches' | 'leaves' | 'rhythm' | 'growth')[] | undefined;
  /** Whether it was measured on a calm clip and a windy one; left out: on one. */
  onTwo?: boolean | undefined;
  /** Beaufort number of the windiest clip that it was measured on; what goes beyond is carried on by the law of drag alone. */
  upTo?: number | undefined;
}

/** All that weather is made from. Same setup, same frames: same bytes. */
export interface Setup {
  width: number;
  height: number;
  /** Mean frames per second of the frames that will be given. */
  rate: number;
  /** Seconds. */
  length: number;
  seed: string;
  geometry: Geometry;
  optics: Optics;
  /** Left out: noise by the model of `optics`, right at the frames' own size. */
  noise?: SensorNoise | undefined;
  /** What is known of the recording, and what is wanted. */
  from: Conditions;
  to: Conditions;
  /** How much each pixel is foliage that can sway, 0 to 255; `width * height`. */
  foliage: Uint8Array;
  /** Animals and people in front of the foliage: they do not sway. Boxes as fractions of the frame. */
  inFront: readonly {
    start: number;
    end: number;
    box?: readonly [number, number, number, number] | undefined;
  }[];
  /** Sway of branches against what is measured, or assumed: 1 unless it is doubted or given. */
  sway: number;
  /** As measured on clips of the site; left out: as assumed. */
  motion?: SiteMotion | undefined;
  /** An assumption that is taken for more or less than it is; left out: none. */
  doubt?: Doubt | undefined;
  /** Parts of the rain that do not fall; left out: none. */
  without?: readonly RainPart[] | undefined;
  /** Put onto the first frame given, again and again: what weather does by itself where nothing moves. Left out: onto each frame. */
  still?: boolean | undefined;
}

/** What rests on assumption, in words for the user and for clip.json. */
export type Assumed = string;
