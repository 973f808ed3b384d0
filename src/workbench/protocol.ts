import type { Problem } from '../base/problem.js';
import type { Camera } from '../camera/description.js';
import type { SettingsFile } from '../camera/settings.js';
import type { Labels } from '../score/labels.js';

/**
 * What the server and its page say to each other. All addresses are relative to the page's own, which holds the secret:
 * http://127.0.0.1:PORT/SECRET/. Everything under api/ takes and gives JSON unless it says otherwise.
 */

/** GET api/alive */
export interface Alive {
  /** Another at each start of the server. */
  started: string;
}

/** GET api/workspace */
export interface WorkspaceInfo {
  /** The opened folder, as it was named; null for the demo. */
  folder: string | null;
  version: string;
  clips: ClipListed[];
  camera: Camera;
  /** Whether camera.json is there and holds; otherwise the default camera stands in. */
  cameraKept: boolean;
  /** Settings files of the opened folder, by their names without ending. */
  settings: { name: string; settings: SettingsFile }[];
  /** What is wrong with the opened folder itself, one line each; what is wrong with a clip stands with it. */
  problems: string[];
}

/** A clip of the opened folder before it is read. */
export interface ClipListed {
  /** Names it in addresses, encoded: encodeURIComponent. */
  id: string;
  /** Its folder's or its scene's name. */
  name: string;
  site: string | null;
  title: string | null;
  /** Animal visits in its labels; null without labels. */
  visits: number | null;
  /** One line where it cannot be opened. */
  problem: string | null;
}

/** Result of POST api/clips/ID/open (streamed). */
export interface ClipOpened {
  id: string;
  name: string;
  site: string | null;
  /** Stored size, pixels. */
  width: number;
  height: number;
  seconds: number;
  rate: number;
  /** One for each stored frame, seconds. */
  times: number[];
  warnings: string[];
  /** Names what the frames hold; see GET api/clips/ID/frames/N. */
  version: string;
  labels: LabelsState;
}

/** GET api/clips/ID/labels, and the answer to PUT there. */
export interface LabelsState {
  /** null: there is no labels.json. */
  labels: Labels | null;
  /** Names the content on disk; '' where there is none. */
  revision: string;
  /** Names the file itself, whichever server it is asked of; what it is called is not to be read from it. */
  file: string;
}

/** PUT api/clips/ID/labels; 409 with a LabelsState where the file is not what `base` names. */
export interface LabelsWrite {
  labels: Labels;
  base: string;
}

/**
 * Result of POST api/clips/ID/evidence (streamed), with an optional body { mask: polygons }: the clip is read with the
 * workspace's camera under that mask; left out, under the labels' as they are on disk.
 */
export interface EvidenceReady {
  /** GET it there: see `EvidenceColumns`. */
  address: string;
}

/**
 * The evidence in bytes, little-endian: Uint32 frames, Uint32 levels, then the levels as Uint32, then the times as Float64
 * (from the next multiple of 8 on), then for each level `frames` Uint32 of changed pixels, then for each level `frames`
 * Uint32 of the largest region.
 */
export interface EvidenceColumns {
  levels: number[];
  /** Seconds, of the analysed frames. */
  times: Float64Array;
  changed: Map<number, Uint32Array>;
  region: Map<number, Uint32Array>;
}

/** A line of a streamed answer (application/x-ndjson): the last is `result` or `problem`. */
export type StreamLine<T, P = never> =
  | { phase: string }
  /** What is found already, where a result comes in parts. */
  | { part: P }
  | { done: number; total: number; at?: string }
  | { warning: string }
  | { result: T }
  | { problem: ProblemTold };

/** The body of every answer that is not 2xx, and of a stream's `problem`. */
export interface ProblemTold {
  code: Problem['code'] | 'fault' | 'changed-meanwhile' | 'refused';
  /** One line. */
  message: string;
}
