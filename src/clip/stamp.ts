/** A moment by some clock of no known zone: whole seconds, and the fraction where the source holds one. */
export interface Stamp {
  seconds: number;
  /** Below 1; undefined when the source holds whole seconds only. */
  fraction?: number;
}
