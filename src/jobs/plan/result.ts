import type { Settings } from '../../camera/settings.js';
import type { Polygon } from '../../engine/mask.js';
import type { Between } from '../../outing/between.js';
import type { WeekGain } from '../../plan/gain.js';
import type { Tells } from '../../tune/tells.js';
import type { Condition } from '../../weather/conditions.js';
import type { Off } from '../../weather/off.js';
import type { SiteLimit } from '../tune/limit.js';
import type { AllowanceKept } from './allowance.js';

/** Hours of the day, 0 to 24; one that ends before it begins goes over midnight. */
export interface Awake {
  from: number;
  until: number;
}

/** Settings as a file has them, and as the dials stand. */
export interface DialsPlanned {
  settings: Settings & { version: 1; mask?: Polygon[] };
  controls: Record<string, number>;
}

/** Hours of like weather, like light and like settings, by what is advised. */
export interface Stretch {
  /** RFC 3339, by the forecast's clock. */
  from: string;
  to: string;
  hours: number;
  conditions: Condition[];
  /** The same in words, with how strong: wind, Beaufort 4 to 5. */
  weather: string;
  /** Null where it is too dark to be of use. */
  controls: Record<string, number> | null;
  /** Share of the visits; 90 %. Null where it is too dark, or nothing is known of such hours. */
  recall: Between | null;
  falsePerHour: Between | null;
  /** Of any kind. */
  photosPerHour: Between | null;
  /** Where the figures come from; null where there are none. */
  source: 'recorded' | 'simulated' | null;
}

/** All hours that have one name, under what is advised. */
export interface KindPlanned {
  /** wind, Beaufort 4 to 5; too dark; not known. */
  weather: string;
  /** Whether anything is told of them. */
  state: 'told' | 'not known' | 'too dark';
  hours: number;
  /** Of what its figures are. */
  clips: string[];
  source: 'recorded' | 'simulated' | 'both' | null;
  /** The stretch of the clip that simulated figures are of, seconds, and the visits in it; null: none are simulated. */
  sample: { clip: string; start: number; end: number; visits: number } | null;
  /** Multiples of simulated false triggers between which 8 of 10 settings lay beside drawings; null: none are simulated, or they were held against none. */
  off: Off | null;
  recall: Between | null;
  falsePerHour: Between | null;
}

/** What the week would bring; hours of which nothing is known are in none of it. */
export interface WeekTold {
  recall: Between | null;
  falsePerHour: Between | null;
  photosOfNothing: Between | null;
}

export interface SitePlan {
  /** As clip.json names it; null for clips that name none. */
  site: string | null;
  clips: string[];
  tells: Tells;
  /** Of the recording: visits that it rests on. */
  visits: number;
  /** That the camera takes: false triggers an hour are of triggers. */
  photosPerTrigger: number;
  /** False triggers an hour that may be in any hour; null: settings are chosen by worth. */
  allowance: AllowanceKept | null;
  stretches: Stretch[];
  /** By the contract's conditions; and by these with how strong. */
  conditions: KindPlanned[];
  kinds: KindPlanned[];
  hours: { ofUse: number; tooDark: number; notTold: number };
  week: {
    one: WeekTold & DialsPlanned;
    /** Every stretch its own, as far as a walk is worth it to the course as a whole. */
    changing: WeekTold & {
      first: DialsPlanned;
      changes: ({ at: string } & DialsPlanned)[];
    };
    walks: number;
    /** What they buy, the walks not counted; null: there are none, or too little to tell. */
    gain: WeekGain | null;
    worthIt: boolean;
    /** Whether the advice is the same at either end of how far off simulated weather may be; null: nothing it rests on is simulated, or that is not known. */
    holds: boolean | null;
  };
  /** What is used there now; null: nobody said. Dials null where they do not give it. */
  inUse: { settings: DialsPlanned['settings']; controls: Record<string, number> | null } | null;
  /** From which light on the camera is of use; null: not asked, for no place is known or no hour is dark. */
  limit: Pick<SiteLimit, 'tells' | 'lux'> | null;
  /** Whether clip.json says where it is. */
  placeKnown: boolean;
  /** A line each for what simulated figures rest on. */
  assumed: string[];
  defaults: string[];
  /** Of all this: what should be known. */
  notes: string[];
}

export interface PlanResult {
  /** From the first hour to the end of the last, RFC 3339. */
  from: string;
  to: string;
  hours: number;
  worth: number;
  walk: number;
  awake: Awake;
  /** In the order in which their clips were given. */
  sites: SitePlan[];
  /** Hour by hour what was foretold: Beaufort numbers, gusts counted in; mm/h. */
  weather: { at: string; wind: number; rain: number }[];
}
