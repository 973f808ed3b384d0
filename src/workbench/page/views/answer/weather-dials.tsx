import type { Camera } from '../../../../camera/description.js';
import type { SiteResult } from '../../../../jobs/tune.js';
import { meaningText } from '../../../../words/meaning.js';
import { rowsOf, weatherAdvice } from '../../../../words/weather-rows.js';
import { tidy } from '../../../../words/wording.js';
import { Knob } from '../../parts/knob.js';
import { Wide } from './wide.js';

/** The dials as they should stand in each weather, as on the card. */
export function WeatherDials({ site, camera }: { site: SiteResult; camera: Camera }) {
  const rows = rowsOf(site, camera);
  const [first] = rows;
  if (!first) return null;
  return (
    <>
      <Wide label="The dials in each weather">
        <table class="weather stacks">
          <caption>Set them like this</caption>
          <thead>
            <tr>
              <td />
              {first.dials.map(({ name }) => (
                <th key={name} scope="col">
                  {name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(({ weather, when, note, dials }) => (
              <tr key={weather}>
                <th scope="row">
                  {weather}
                  {when !== '' && <span class="note">{when}</span>}
                  {note !== null && <span class="note">{note}</span>}
                </th>
                {dials.map((dial) => (
                  <td key={dial.name} data-of={dial.name} class={dial.turned ? undefined : 'same'}>
                    <Knob dial={dial} small />
                    <span class="out-of-sight">
                      {dial.chosen === null
                        ? 'between two positions'
                        : `${tidy(dial.positions[dial.chosen]!)}: ${meaningText(dial.sets, dial.values[dial.chosen]!)}`}
                    </span>
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </Wide>
      <p>{weatherAdvice(site)}</p>
    </>
  );
}
