import { useSignal } from '@preact/signals';
import type { SitePlan } from '../../../../jobs/plan.js';
import { alike, differing } from '../../../../words/answer.js';
import {
  allowanceText,
  darknessText,
  inAllText,
  momentText,
  noDarknessText,
  planAdvice,
  planHeadline,
  plannedName,
  planRests,
  rateOrDash,
  shareOrDash,
  sourceText,
  spanText,
  turnsOf,
  walksText,
  weatherNamed,
} from '../../../../words/plan-wording.js';
import { dialsText, plural } from '../../../../words/wording.js';
import type { Planned, PlanSave } from '../../../plan-protocol.js';
import { SaidOfSaving, type Saving, useSaving } from '../../parts/saving.js';
import { sayOf } from '../../state/about.js';
import { turnTo } from '../../state/settings.js';
import { savePlan } from './asking.js';

/** Why the same clips may have other figures in Answer. */
const UNLIKE_ANSWER =
  'Figures are those of Answer where the dials are, and the weather is that of all the clips; else somewhat other: it chooses for the clips as they are, and here it is chosen, and tried on footage left out, for the hours that are foretold.';

/** What to set when, what to expect, and what it rests on. */
export function PlanTold({ planned }: { planned: Planned }) {
  const { result, warnings, id } = planned;
  const assumed = [...new Set(result.sites.flatMap((site) => [...site.assumed, ...site.defaults]))];
  return (
    <div class="planned">
      <h3>
        {spanText(result)}, {plural(result.hours, 'hour')}
      </h3>
      {result.sites.map((site) => (
        <SiteTold key={plannedName(site)} site={site} planned={planned} />
      ))}
      <Along id={id} />
      <p class="note">{planRests(result)}</p>
      {result.sites.some((site) => planAdvice(site) !== 'too little') && <p class="note">{UNLIKE_ANSWER}</p>}
      {warnings.map((line) => (
        <p key={line} class="note">
          {line}
        </p>
      ))}
      {assumed.length > 0 && (
        <details class="note">
          <summary>What it rests on ({assumed.length})</summary>
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

function SiteTold({ site, planned: { result } }: { site: SitePlan; planned: Planned }) {
  const said = useSignal('');
  const advice = planAdvice(site);
  const { one, changing } = site.week;
  const told = advice === 'change' ? changing : one;
  const [dark, darkness] = [noDarknessText(site), darknessText(site)];
  const { same, differ } = alike(site.stretches.flatMap(({ controls }) => (controls ? [controls] : [])));
  const isToldEach = differ.length > 0 || site.stretches.some(({ controls }) => controls === null);
  return (
    <section class="site" aria-label={plannedName(site)}>
      {dark !== null && (
        <p class="trouble">
          {dark}{' '}
          <button type="button" onClick={() => sayOf(site.clips[0]!)}>
            Say where it hangs
          </button>
        </p>
      )}
      <p role="status">
        <strong>
          {plannedName(site)}: {planHeadline(site)}
        </strong>{' '}
        {walksText(site, result)}
      </p>
      {told.photosOfNothing && advice !== 'too little' && <p>{inAllText(site)}</p>}
      {site.allowance && <p>{allowanceText(site)}</p>}
      {advice === 'change' && (
        <ol class="turns">
          {turnsOf(site).map(([moment, dials]) => (
            <li key={moment}>
              <strong>{moment}</strong> {dials}
            </li>
          ))}
        </ol>
      )}
      {advice !== 'too little' && (
        <p class="row">
          <button
            type="button"
            class="main"
            onClick={() => {
              const { settings } = advice === 'change' ? changing.first : one;
              const stayed = turnTo(settings, site.site);
              said.value =
                stayed.length === 0
                  ? 'The dials stand like this now.'
                  : `No position of ${stayed.join(' and ')} gives the value; the others stand like this now.`;
            }}
          >
            {advice === 'change' ? 'Set the dials as at the start' : 'Set the dials to this'}
          </button>
          <span role="status">{said.value}</span>
        </p>
      )}
      <Scrolled caption="What to expect in which weather">
        <thead>
          <tr>
            <th scope="col">weather</th>
            <th scope="col">hours</th>
            <th scope="col">visits caught</th>
            <th scope="col">false an hour</th>
            <th scope="col">from</th>
          </tr>
        </thead>
        <tbody>
          {site.conditions.map((kind) => (
            <tr key={kind.weather}>
              <th scope="row">{weatherNamed(kind)}</th>
              <td data-of="hours">{kind.hours}</td>
              <td data-of="visits caught">{shareOrDash(kind.recall)}</td>
              <td data-of="false an hour">{rateOrDash(kind.falsePerHour)}</td>
              <td data-of="from">{sourceText(kind)}</td>
            </tr>
          ))}
        </tbody>
      </Scrolled>
      <Scrolled caption="Hour by hour">
        <thead>
          <tr>
            <th scope="col">from</th>
            <th scope="col">weather</th>
            {isToldEach && <th scope="col">dials</th>}
            <th scope="col">visits caught</th>
            <th scope="col">photos an hour</th>
          </tr>
        </thead>
        <tbody>
          {site.stretches.map(({ from, hours, weather, controls, recall, photosPerHour }) => (
            <tr key={from}>
              <th scope="row">
                {momentText(from)}, {hours} h
              </th>
              <td>{weatherNamed({ weather })}</td>
              {isToldEach && (
                <td data-of="dials">{controls ? differing(controls, differ, 'as always') : 'too dark'}</td>
              )}
              <td data-of="visits caught">{shareOrDash(recall)}</td>
              <td data-of="photos an hour">{rateOrDash(photosPerHour)}</td>
            </tr>
          ))}
        </tbody>
      </Scrolled>
      {Object.keys(same).length > 0 && <p class="note">In every hour of use: {dialsText(same)}.</p>}
      {site.notes.map((note) => (
        <p key={note} class="note">
          {note}
        </p>
      ))}
      {darkness !== '' && <p class="note">{darkness}</p>}
    </section>
  );
}

function Scrolled({ caption, children }: { caption: string; children: preact.ComponentChildren }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by the keyboard
    <section class="scrolls" tabIndex={0} aria-label={caption}>
      <table class="stacks">
        <caption>{caption}</caption>
        {children}
      </table>
    </section>
  );
}

function Along({ id }: { id: string }) {
  const saves: [PlanSave['what'], string, Saving][] = [
    ['calendar', 'Save the calendar', useSaving((replace) => savePlan(id, { what: 'calendar', replace }))],
    ['report', 'Save the report', useSaving((replace) => savePlan(id, { what: 'report', replace }))],
    [
      'promise',
      'Save what it promises, for the evening',
      useSaving((replace) => savePlan(id, { what: 'promise', replace })),
    ],
  ];
  return (
    <div>
      <h4>Take it along</h4>
      <p class="row">
        {saves.map(([what, text, saving]) => (
          <button type="button" key={what} onClick={() => void saving.save(false)}>
            {text}
          </button>
        ))}
        <a href={`api/plans/${encodeURIComponent(id)}/report`} target="_blank" rel="noopener">
          Show the report
        </a>
      </p>
      {saves.map(([what, , saving]) => (
        <SaidOfSaving key={what} of={saving} />
      ))}
    </div>
  );
}
