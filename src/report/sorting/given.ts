import type { Seen } from '../../outing/evening/photo.js';

/** What the sheet hands to its script, beside the pictures: in order of their numbers. */
export interface SheetGiven {
  /** Another for other photos, and for other marks to begin with. */
  id: string;
  names: string[];
  marks: (Seen | null)[];
  /** The burst that each belongs to. */
  bursts: number[];
  /** Where the folder of the photos lies, seen from the sheet: the beginning of an address. */
  folder: string;
  /** What the marks are saved as. */
  saveAs: string;
}
