import type { ComponentChildren } from 'preact';
import type { Camera } from '../../../../camera/description.js';
import type { SiteResult } from '../../../../jobs/tune.js';
import { nowText, usedText } from '../../../../words/against-now.js';
import { goalText, headline, siteName, tooManyText, whatToRecord } from '../../../../words/answer.js';
import { sensibleChoices } from '../../../../words/choices.js';
import { endsText } from '../../../../words/dial-ends.js';
import { explain } from '../../../../words/explain.js';
import { explainLimit } from '../../../../words/explain-limit.js';
import {
  assumptionsOf,
  explainSimulated,
  explainWeather,
  fewSimulatedText,
} from '../../../../words/explain-weather.js';
import { luckOfSite } from '../../../../words/luck.js';
import { byBouts, dialsText, falseAnHour, foretold, plural, share } from '../../../../words/ratios.js';
import { VisitButtons } from '../../parts/visit-buttons.js';
import { wish } from '../../state/answer.js';
import { clip, openClip, showTime } from '../../state/clip.js';
import { turn } from '../../state/settings.js';
import { MaskPicture } from './mask-picture.js';
import { WeatherDials } from './weather-dials.js';
import { Wide } from './wide.js';

const FEWER =
  'If that is too many to look through, choose “At most … photos of nothing a day” above, and work it out again.';

/** What to use at one site, in the sentences of the terminal and the report. */
export function SiteAnswer({
  site,
  camera,
  children,
}: {
  site: SiteResult;
  camera: Camera;
  children: ComponentChildren;
}) {
  const little = site.tells === 'too little';
  const assumed = assumptionsOf([site]);
  const ends = endsText([site]);
  const tooMany = tooManyText([site], () => camera, FEWER, wish.value.hoursOut);
  return (
    <article class={`site ${site.tells.replace(' ', '-')}`}>
      <p class="note">{siteName(site)}</p>
      <div role="status">
        <h3>{headline(site, camera)}</h3>
      </div>
      {little ? (
        <>
          <p>{whatToRecord(site)}</p>
          <Choices site={site} camera={camera} />
        </>
      ) : (
        <>
          <Scores site={site} camera={camera} />
          {ends !== null && <p>{ends}</p>}
          {tooMany !== null && <p>{tooMany}</p>}
          <WeatherDials site={site} camera={camera} />
          <MaskPicture site={site} />
        </>
      )}
      <h4>Against what you use now</h4>
      <p>
        {usedText(site.now, ' (“I use now”, above)')} {nowText(site, camera)} {little && luckOfSite(site)}
      </p>
      <NowVisits site={site} />
      {children}
      <details open={!little}>
        <summary>Why, and what it rests on</summary>
        {[
          ...(little ? [] : explain(site)),
          ...explainWeather(site),
          ...explainSimulated(site),
          ...explainLimit(site),
          fewSimulatedText([site]) ?? '',
        ]
          .filter((sentence) => sentence !== '')
          .map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
        <p>
          Chosen for this: {goalText(site)}. {plural(site.searched, 'group')} of settings of the {camera.name}{' '}
          tried on {plural(site.clips.length, 'clip')}.
        </p>
        {assumed.length > 0 && (
          <details class="note">
            <summary>What is simulated assumes ({assumed.length})</summary>
            <ul>
              {assumed.map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
          </details>
        )}
      </details>
    </article>
  );
}

const SCORED = ['visits caught', 'share, 90 %', 'false an hour, 90 %'];

function Scores({ site, camera }: { site: SiteResult; camera: Camera }) {
  const { score, unseen, settings } = site.recommended;
  const rate = (of: Parameters<typeof falseAnHour>[0]) => falseAnHour(of, camera.burst.photos);
  const rows = [
    [
      'on these clips',
      `${score.caught} of ${score.visits}`,
      share(score.recall),
      rate(byBouts(score, settings)),
    ],
    ['on others like them', '', share(unseen.recall), rate(foretold(site.recommended))],
    [
      site.now.assumed ? 'dials at their middle' : 'what you use now',
      `${site.now.score.caught} of ${site.now.score.visits}`,
      share(site.now.score.recall),
      rate(byBouts(site.now.score, site.now.settings)),
    ],
  ];
  return (
    <Wide label="How sure it is">
      <table class="stacks">
        <thead>
          <tr>
            <td />
            {SCORED.map((of) => (
              <th key={of} scope="col">
                {of}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(([name, ...cells]) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              {cells.map((cell, i) => (
                <td key={SCORED[i]} data-of={SCORED[i]}>
                  {cell}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </Wide>
  );
}

/** Where too little can be told: some sensible choices, each to be tried on the dials. */
function Choices({ site, camera }: { site: SiteResult; camera: Camera }) {
  return (
    <>
      <p>Until then, sensible choices:</p>
      <ul class="choices">
        {sensibleChoices(site, camera).map(({ name, controls, recall, falsePerHour }) => (
          <li key={name}>
            <strong>{name}</strong>: {dialsText(controls)}; visits caught {share(recall)}, false triggers an
            hour {falseAnHour(falsePerHour, camera.burst.photos)}{' '}
            <button type="button" class="small" onClick={() => turn(controls)}>
              Set the dials to {name}
            </button>
          </li>
        ))}
      </ul>
    </>
  );
}

/** The visits by which it differs from what is used now. */
function NowVisits({ site }: { site: SiteResult }) {
  const { gained, lost } = site.now.against;
  const named = (visits: typeof gained) =>
    visits.map((visit) => ({ ...visit, name: `${visit.name ?? 'visit'} in ${visit.clip}` }));
  const go = async ({ clip: id, start }: { clip: string; start: number }) => {
    if (clip.value?.id !== id) await openClip(id);
    if (clip.value?.id === id) showTime(start);
  };
  return (
    <>
      <VisitButtons what="Gained:" visits={named(gained)} onGo={(visit) => void go(visit)} />
      <VisitButtons what="Lost:" visits={named(lost)} onGo={(visit) => void go(visit)} />
    </>
  );
}
