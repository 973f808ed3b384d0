import type { Known } from './known.js';

/**
 * Before anything is labelled one moment in five is taken to be an animal, and that counts as much as five labels; what was
 * found among all counts as much as three labels for those of one size. Assumptions, both.
 */
const PRIOR = { share: 0.2, weight: 5 };
const WEIGHT_OF_ALL = 3;

/**
 * How likely each moment is an animal, by what was found among the labelled ones, those of its own size above all: two
 * steps of a beta prior, each taking the share of the wider group for its own.
 * @param known what labels say of each; people and time set aside say nothing
 */
export function chancesOf(rows: readonly { sizeClass: number; known: Known }[]): Float64Array {
  const said = rows.filter(({ known }) => known === 'animal' || known === 'nothing');
  const share = (among: typeof said, prior: number, weight: number) =>
    (among.filter(({ known }) => known === 'animal').length + weight * prior) / (among.length + weight);
  const overall = share(said, PRIOR.share, PRIOR.weight);
  return Float64Array.from(rows, ({ sizeClass }) =>
    share(
      said.filter((row) => row.sizeClass === sizeClass),
      overall,
      WEIGHT_OF_ALL,
    ),
  );
}
