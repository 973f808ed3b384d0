import type { Settings } from '../camera/settings.js';
import type { Polygon } from '../engine/mask.js';
import type { Score } from '../score/score.js';
import type { SweepCounts } from '../sweep/counts.js';
import type { Condition } from '../weather/conditions.js';
import type { Off } from '../weather/off.js';
import type { Advised, Doubted } from './doubts.js';
import type { Gain } from './gain.js';
import type { RainTold } from './rain-parts.js';
import type { Tells } from './tells.js';
import type { Unseen } from './unseen.js';
import type { Simulated } from './weather.js';

/** One clip under every setting: all of it, and block by block. */
export interface Swept {
  whole: SweepCounts;
  blocks: SweepCounts[];
}

/** One group of settings, in engine values and in the camera's own dial positions, with how it did. */
export interface Choice {
  settings: Settings & { version: 1; mask?: Polygon[] };
  controls: Record<string, number>;
  score: Score;
  unseen: Unseen;
}

/** What to use at one site. */
export interface SiteResult {
  /** As clip.json names it; null for clips that name none. */
  site: string | null;
  clips: string[];
  tells: Tells;
  searched: number;
  /** Null where settings were chosen by what they are worth. */
  allowance: {
    falsePerHour: number;
    kept: boolean;
    hoursNeeded: number | null;
    sure: number | null;
    /** Watched hours without a false trigger that it takes to be so sure; null where that is not asked for, or never. */
    hoursToBeSure: number | null;
    /** The probability with which what is recommended keeps it on as much footage again; null where none was asked for. */
    reached: number | null;
  } | null;
  /** How many photos of nothing one more visit is worth looking through; null where there is an allowance. */
  worth: { photos: number } | null;
  /** Never holds a mask that the labels do not. */
  best: Choice;
  /** With a mask recommended, under it; so is all else but `best` and `mask.withoutIt`. */
  recommended: Choice;
  /** A mask that is worth adding to the owner's own; null where none is proved. */
  mask: {
    /** What is new. */
    polygons: Polygon[];
    /** What to use without it. */
    withoutIt: Choice;
    provedOn: 'footage left out';
  } | null;
  /** Each kind of weather by itself; where nobody recorded it, simulated on a recorded clip. */
  byCondition: {
    condition: Condition;
    clips: string[];
    source: 'recorded' | 'simulated';
    /** Null where it is simulated with fewer than 20 visits: too few to rest other dials on. */
    choice: Choice | null;
    /** Only simulated: how the choice, or else the recommended settings, do at each strength (Beaufort number, mm/h or lux). */
    strengths?: {
      strength: number;
      recall: number | null;
      falsePerHour: number | null;
      score: Score;
      /** False triggers an hour between which 8 of 10 settings lay beside drawings; null or left out: not known. */
      range?: { low: number; high: number; times: Off } | null;
      /** Why there is no range: such weather was held against drawings, but of settings that fire as seldom nothing is known. */
      tooFew?: true;
      /** False triggers an hour with mostChanged all the way up and all else the same; left out without such a dial. */
      unheldPerHour?: number | null;
    }[];
    /**
     * Only simulated: whether the choice would stay, within the goal, at either end of the ranges, were all settings off alike;
     * null: there is none, or no range.
     */
    holds?: boolean | null;
  }[];
  /** One group of settings for all recorded weather, or changing them with it; null with fewer than two kinds. */
  weather: {
    one: Choice;
    /** What changing would add to recall; 90 %. */
    changing: Gain | null;
    worthIt: boolean;
  } | null;
  /** The advice for simulated weather, were one assumption half or twice what it is. */
  doubts: Doubted[];
  /** What is advised for each kind of simulated weather. */
  advised: Advised[];
  /** Which part of simulated rain fires the camera; null where that was not tried. */
  rain: RainTold | null;
  /** What weather was put onto, and what that rests on. */
  simulations: Omit<Simulated, 'sweeps'>[];
  notches: { dial: string; position: number; score: Score }[];
  front: {
    settings: Choice['settings'];
    byLuck: number | null;
    recall: number | null;
    precision: number | null;
    falsePerHour: number | null;
    /** The 90 % interval of that, with bunches of triggers as the units. */
    byBouts: { low: number; high: number } | null;
  }[];
}

/** A swept clip as tuning sees it. */
export interface TunedClip extends Swept {
  clip: string;
  conditions: Condition[];
  /** Whether clip.json says that the clip is simulated. */
  simulated: boolean;
}
