import type { EveningResult } from '../../../../jobs/evening.js';
import {
  asideTexts,
  conditionRows,
  countsText,
  type EveningWays,
  hourRows,
  nextText,
  PEOPLE_CAUTION,
  precisionText,
  stretchRows,
  verdictHeading,
  verdictText,
} from '../../../../words/evening-wording.js';

const BY_FIELDS: EveningWays = {
  hours: 'say under “Out from” and “Out until”',
  clock: 'say under “The camera’s clock” what that is ahead of UTC, such as +01:00, or Z',
  camera: 'describe the camera that took them in Camera, and keep it',
};

/** What came of an evening, told. */
export function Outcome({ result }: { result: EveningResult }) {
  const { promised, byHour, byStretch, byCondition, notes, assumed } = result;
  const next = nextText(result);
  const lines = [...asideTexts(result), ...notes];
  return (
    <div class="outcome" role="status">
      {promised && (
        <>
          <h4>{verdictHeading(result)}</h4>
          <p>{verdictText(result, BY_FIELDS)}</p>
        </>
      )}
      <p>{countsText(result)}.</p>
      <p>{precisionText(result)}</p>
      {next !== null && <p>{next}</p>}
      {byStretch && byStretch.length > 0 && (
        <Rows caption="By the plan’s hours" of={stretchRows(byStretch)} />
      )}
      {byCondition && byCondition.length > 0 && (
        <Rows caption="By the weather foretold" of={conditionRows(byCondition)} />
      )}
      {byHour.length > 0 && <Rows caption="By the hour" of={hourRows(byHour)} />}
      {[...lines, PEOPLE_CAUTION].map((line) => (
        <p key={line} class="note">
          {line}
        </p>
      ))}
      {assumed.length > 0 && (
        <details class="note">
          <summary>Assumed, because nobody said ({assumed.length})</summary>
          <ul>
            {assumed.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </details>
      )}
    </div>
  );
}

function Rows({
  caption,
  of: { heads, rows },
}: {
  caption: string;
  of: { heads: string[]; rows: string[][] };
}) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by the keyboard
    <section class="scrolls" tabIndex={0} aria-label={caption}>
      <table class="stacks">
        <caption>{caption}</caption>
        <thead>
          <tr>
            {heads.map((head) => (
              <th scope="col" key={head}>
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row[0]}>
              <th scope="row">{row[0]}</th>
              {row.slice(1).map((cell, i) => (
                <td key={heads[i + 1]} data-of={heads[i + 1]}>
                  {cell}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
