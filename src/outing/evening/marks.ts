import { marksFile } from './marks-file.js';
import type { Seen } from './photo.js';

type Mark = Seen | null;

/** The marks of all photos, with every step back. */
export class Marks {
  private readonly steps: { photo: number; before: Mark }[][] = [];

  constructor(private readonly marks: Mark[]) {}

  get(photo: number): Mark {
    return this.marks[photo] ?? null;
  }

  get canUndo(): boolean {
    return this.steps.length > 0;
  }

  /** Marks some photos in one step; those that are marked so already stay. Gives the photos that changed. */
  set(photos: readonly number[], mark: Mark): number[] {
    const step = photos
      .filter((photo) => this.get(photo) !== mark)
      .map((photo) => ({ photo, before: this.get(photo) }));
    for (const { photo } of step) this.marks[photo] = mark;
    if (step.length > 0) this.steps.push(step);
    return step.map(({ photo }) => photo);
  }

  /** Takes the last step back. Gives the photos that changed. */
  undo(): number[] {
    const step = this.steps.pop() ?? [];
    for (const { photo, before } of step) this.marks[photo] = before;
    return step.map(({ photo }) => photo);
  }

  /** Marks all as they were found elsewhere; no step that can be taken back. Gives the photos that changed. */
  adopt(marks: readonly Mark[]): number[] {
    const changed = marks.flatMap((mark, photo) => (this.get(photo) === mark ? [] : [photo]));
    for (const photo of changed) this.marks[photo] = marks[photo]!;
    return changed;
  }

  count(mark: Mark): number {
    return this.marks.filter((one) => one === mark).length;
  }

  /** The first photo after that one that is not marked and is wanted, or else from the start; null for none. */
  nextUnmarked(after: number, wanted: (photo: number) => boolean): number | null {
    const open = (photo: number) => this.get(photo) === null && wanted(photo);
    for (let photo = after + 1; photo < this.marks.length; photo++) if (open(photo)) return photo;
    for (let photo = 0; photo <= after; photo++) if (open(photo)) return photo;
    return null;
  }

  /** A letter a photo, to be kept in the browser. */
  written(): string {
    return this.marks.map((mark) => letters.get(mark)).join('');
  }

  /** Whether it was so written for as many photos, which then are marked so. */
  read(written: string): boolean {
    if (written.length !== this.marks.length || /[^anp-]/.test(written)) return false;
    for (const [mark, letter] of letters) {
      for (let i = 0; i < written.length; i++) if (written[i] === letter) this.marks[i] = mark;
    }
    return true;
  }

  /** The file of marks. */
  csv(names: readonly string[]): string {
    return marksFile(names, (photo) => this.get(photo));
  }
}

const letters = new Map<Mark, string>([
  ['animal', 'a'],
  ['nothing', 'n'],
  ['person', 'p'],
  [null, '-'],
]);
