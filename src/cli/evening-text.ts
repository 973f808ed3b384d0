import type { EveningResult, EveningWritten } from '../jobs/evening.js';
import {
  asideTexts,
  conditionRows,
  countsText,
  hourRows,
  nextText,
  PEOPLE_CAUTION,
  precisionText,
  spanText,
  stretchRows,
  verdictHeading,
  verdictText,
} from '../words/evening-wording.js';
import { fold, item, listed, strong, tableOrLists } from './terminal.js';

/** What an evening's photos say, for people. */
export function eveningText(result: EveningResult, written: EveningWritten): string {
  const { animal, nothing, person, notes } = result;
  const marked = animal + nothing + person > 0;
  return [
    strong(fold(headline(result))),
    ...(marked ? told(result) : []),
    ...[...asideTexts(result), ...notes].map((note) => fold(note)),
    ...(marked ? listed('Assumed, because nobody said:', result.assumed) : []),
    ...files(written),
    ...(written.sheet === null ? [] : whatToDo(written, result)),
    ...(marked && person === 0 ? [] : [fold(PEOPLE_CAUTION)]),
  ].join('\n\n');
}

function headline(result: EveningResult): string {
  const times = result.all.flatMap(({ time }) => time ?? []);
  const when = times.length > 0 ? `, ${spanText({ from: times[0]!, until: times.at(-1)! })}` : '';
  const counts = countsText(result);
  const at = counts.indexOf(':');
  return at < 0 ? `${counts}${when}.` : `${counts.slice(0, at)}${when}${counts.slice(at)}.`;
}

function told(result: EveningResult): string[] {
  const { promised, byHour, byStretch, byCondition } = result;
  const next = nextText(result);
  const tableOf = ({ heads, rows }: { heads: string[]; rows: string[][] }) => tableOrLists(heads, rows);
  const verdict = verdictText(result);
  return [
    promised ? fold(`${strong(`${verdictHeading(result)}.`)} ${verdict}`) : fold(verdict),
    fold(precisionText(result)),
    ...(byHour.length > 0 ? [tableOf(hourRows(byHour))] : []),
    ...(byStretch && byStretch.length > 0 ? [tableOf(stretchRows(byStretch))] : []),
    ...(byCondition && byCondition.length > 0 ? [tableOf(conditionRows(byCondition))] : []),
    ...(next ? [fold(next)] : []),
  ];
}

function files({ sheet, marks, report }: EveningWritten): string[] {
  const rows = [
    ...(sheet === null ? [] : [item(sheet, 'all photos, small and numbered, to be marked', NAME)]),
    ...(marks === null ? [] : [item(marks, 'the marks, a row a photo, not filled in yet', NAME)]),
    ...(report === null
      ? []
      : [item(report, 'the evening told, with pictures of animals and of nothing', NAME)]),
  ];
  return rows.length === 0 ? [] : [['Written', ...rows].join('\n')];
}

const NAME = 30;

function whatToDo({ sheet, marks }: EveningWritten, { folder }: EveningResult): string[] {
  const next = `perchmark evening ${shell(folder)} --marks ${shell(marks ?? 'marks.csv')}`;
  return [
    fold(
      `Open ${sheet} in a browser, mark each photo as animal, nothing or person, and press "Save marks"${marks === null ? '' : '; or fill in the column "seen" of the marks in a spreadsheet'}. Then, with the file that was saved:`,
    ),
    // By itself, to be copied: not folded.
    `  ${next}`,
    fold('The sheet shows every photo, those of people too, until you mark them: keep it to yourself.'),
  ];
}

/** As it may be pasted into a shell. */
function shell(text: string): string {
  return /^[\w./-]+$/.test(text) ? text : `'${text.replaceAll("'", "'\\''")}'`;
}
