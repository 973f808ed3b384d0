import { plural } from '../base/figures.js';
import type { FitResult } from '../jobs/fit.js';
import {
  agreementText,
  asGivenText,
  besidesFound,
  equallyGoodText,
  fitHeadline,
  foundRows,
} from '../words/fit-wording.js';
import { fold, listed, strong, table } from './terminal.js';
import { writtenText } from './write-settings.js';

/** Descriptions that are told of beside the best. */
const MOST_TOLD = 8;

/** The result of `fit` for people. */
export function fitText(result: FitResult, written: readonly string[]): string {
  const { record, assumed, notes } = result;
  const given = asGivenText(result);
  const besides = besidesFound(result);
  const others = besides.length - MOST_TOLD;
  return [
    ...(given === null ? [] : [fold(given)]),
    strong(fold(fitHeadline(result))),
    fold(agreementText(result)),
    table(['', 'found'], foundRows(result)),
    ...listed('As good as that:', besides.slice(0, MOST_TOLD).map(equallyGoodText)),
    ...(others > 0 ? [`and ${plural(others, 'other')} (--json lists them all)`] : []),
    ...(record === null ? [] : [fold(`What would tell more: ${record}`)]),
    ...listed('Taken to be so:', assumed),
    ...notes.map((note) => fold(`${note.charAt(0).toUpperCase()}${note.slice(1)}.`)),
    ...writtenText(written),
  ].join('\n\n');
}
