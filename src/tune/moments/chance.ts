import type { Known } from './known.js';

/**
 * Before anything is labelled one moment in five is taken to be an animal, which counts as much as two labels; what was
 * found among all counts as much as two labels for those of one size. Assumptions, all of them.
 */
const PRIOR = { share: 0.2, weight: 2 };
const WEIGHT_OF_ALL = 2;

interface Tally {
  animals: number;
  all: number;
}

/**
 * How likely a moment is an animal, by what was found among the labelled ones, those of its own size above all: two steps
 * of a beta prior, each taking the share of the wider group for its own. Told what a moment was, it knows better of the
 * next: drawing all in turn so is Pólya's urn, which keeps in that the share itself is not known.
 */
export class Chances {
  private constructor(
    private readonly overall: Tally,
    private readonly bySize: Map<number, Tally>,
  ) {}

  /** @param known what labels say of each; people and time set aside say nothing */
  static from(rows: readonly { sizeClass: number; known: Known }[]): Chances {
    const chances = new Chances({ animals: 0, all: 0 }, new Map());
    for (const { sizeClass, known } of rows) {
      if (known === 'animal' || known === 'nothing') chances.add(sizeClass, known === 'animal');
    }
    return chances;
  }

  of(sizeClass: number): number {
    const share = ({ animals, all }: Tally, prior: number, weight: number) =>
      (animals + weight * prior) / (all + weight);
    const wide = share(this.overall, PRIOR.share, PRIOR.weight);
    return share(this.bySize.get(sizeClass) ?? { animals: 0, all: 0 }, wide, WEIGHT_OF_ALL);
  }

  add(sizeClass: number, animal: boolean): void {
    let own = this.bySize.get(sizeClass);
    if (!own) {
      own = { animals: 0, all: 0 };
      this.bySize.set(sizeClass, own);
    }
    for (const tally of [this.overall, own]) {
      tally.all++;
      tally.animals += Number(animal);
    }
  }

  copy(): Chances {
    const bySize = [...this.bySize].map(([size, tally]) => [size, { ...tally }] as const);
    return new Chances({ ...this.overall }, new Map(bySize));
  }
}
