import type { Labels } from '../../score/labels.js';
import type { Clip } from '../open.js';

/** Something that the labels, or what was read, say and that has no place on the other side. */
export interface NotHeld {
  /** A few words. */
  what: string;
  /** How often. */
  count: number;
  /** Where it is kept all the same, so that importing it here brings it back; null: it is lost. */
  kept: string | null;
  /** The same as a line for people. */
  says: string;
}

/** Labels on their way out. */
export interface Outgoing {
  clip: Pick<Clip, 'dir' | 'manifest' | 'times' | 'seconds' | 'source' | 'contentKey' | 'warnings'>;
  labels: Labels;
  /** What the clip is called. */
  name: string;
  /** The clip's folder as it is named from the folder that is written, with / between folders. */
  mediaFolder: string;
  /** When the recording began, RFC 3339; null: nobody said. */
  start: string | null;
  place: { latitude: number; longitude: number } | null;
  /** Seconds from a trigger until it can fire again; null: nobody said. */
  cooldown: number | null;
  /** Whether names in the labels are scientific ones. */
  scientificNames: boolean;
  /** Who labelled; null: nobody said. */
  contributor: string | null;
  now: Date;
}

/** A file to be written. */
export interface FileOut {
  name: string;
  /** Its text in pieces, so that a day's stills need no memory. */
  pieces: () => Iterable<string>;
}

export interface Written {
  files: FileOut[];
  notHeld: NotHeld[];
  /** What should be known of it. */
  notes: string[];
}

/** What labels are read for. */
export interface Wanted {
  clip: Pick<Clip, 'dir' | 'seconds' | 'contentKey' | 'manifest'>;
  /** When the recording began, RFC 3339; null: nobody said. */
  start: string | null;
  /** The deployment that is meant; null: the one that fits. */
  deployment: string | null;
  /** Rows of pictures that belong to no event are one visit where no more seconds lie between them. */
  gap: number;
  /** Whether all of the clip was looked through, whatever the file says. */
  allReviewed: boolean;
  signal?: AbortSignal | undefined;
  /** Told how much of a long file was read, of how much. */
  onProgress?: ((done: number, total: number) => void) | undefined;
}

/** Labels that were read. */
export interface Incoming {
  labels: Labels;
  /** The deployment that they are of; null: the format knows none. */
  deployment: string | null;
  /** Stretches that lie outside the clip and were left out. */
  outside: number;
  /** Stretches of which a part lies outside, which was cut off. */
  cut: number;
  notHeld: NotHeld[];
  notes: string[];
}

/** An open format that labels can be written in and read from. */
export interface ExchangeFormat {
  /** As people know it. */
  title: string;
  /** @throws Problem for what the format must know and nobody said */
  write(labels: Outgoing): Written;
  /** @throws Problem for whatever cannot be read */
  read(file: string, wanted: Wanted): Promise<Incoming>;
}
