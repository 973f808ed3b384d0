export interface Picture {
  /** A JPEG file as a data: address. */
  address: string;
  width: number;
  height: number;
  /** What the picture shows, in words. */
  caption: string;
  /** Whether the region that fired is hatched in it, or outlined. */
  hatched: boolean;
  /** Whether a person in it was blurred. */
  blurred: boolean;
  /** What fired, or where the animal was, larger. */
  closeUp?: { address: string; width: number; height: number };
}

/** Pictures of one kind. */
export interface PictureGroup {
  pictures: readonly Picture[];
  /** How many more there are than the report has room for. */
  more: number;
  /** How many are left out because a person may be seen. */
  people: number;
}
