import { type Signal, useSignal } from '@preact/signals';
import type { Camera } from '../../../../camera/description.js';
import type { SettingsFile } from '../../../../camera/settings.js';
import type { SiteResult } from '../../../../jobs/tune.js';
import { controlsOf } from '../../../../words/controls.js';
import type { Answered, AnswerSave } from '../../../answer-protocol.js';
import { SaveSettings } from '../../parts/save-settings.js';
import { SaidOfSaving, type Saving, useSaving } from '../../parts/saving.js';
import { saveAnswer } from '../../state/answer.js';
import { keptFrom } from '../../state/kept.js';
import { turnTo } from '../../state/settings.js';
import { printPage } from './print-page.js';

interface Props {
  answered: Answered;
  site: SiteResult;
  /** Of the site in the answer. */
  place: number;
  camera: Camera;
}

/** Setting the dials to the answer, and saving, showing and printing it. */
export function TakeAlong({ answered: { id }, site, place, camera }: Props) {
  const said = useSignal('');
  const enough = site.tells !== 'too little';
  const { settings } = site.recommended;
  const saves: [AnswerSave['what'], string, Saving][] = [
    [
      'settings',
      'Save the settings files',
      useSaving((replace) => saveAnswer(id, { what: 'settings', replace })),
    ],
    ['card', 'Save the card', useSaving((replace) => saveAnswer(id, { what: 'card', replace }))],
    ['report', 'Save the report', useSaving((replace) => saveAnswer(id, { what: 'report', replace }))],
    [
      'promise',
      'Save what it promises, for the evening',
      useSaving((replace) => saveAnswer(id, { what: 'promise', replace })),
    ],
  ];
  const able = saves.filter(([what]) => enough || what === 'report');
  const address = `api/answers/${encodeURIComponent(id)}`;
  const shows: [what: string, address: string][] = [
    ...(enough ? [['card', `${address}/card/${place}`] as [string, string]] : []),
    ['report', `${address}/report`],
  ];
  return (
    <div class="along">
      <h4>Take it along</h4>
      {enough && (
        <p>
          <button
            type="button"
            class="main"
            onClick={() => {
              const stayed = turnTo(settings, site.site);
              keptFrom.value = { kind: 'recommended' };
              const mask = settings.mask ? ' Their mask is tried there too.' : '';
              said.value =
                stayed.length === 0
                  ? `The dials stand like this now.${mask}`
                  : `No position of ${stayed.join(' and ')} gives the value; the others stand like this now.${mask}`;
            }}
          >
            Set the dials to this
          </button>
        </p>
      )}
      <p role="status">{said.value}</p>
      <p class="row">
        {able.map(([what, text, saving]) => (
          <button type="button" key={what} onClick={() => void saving.save(false)}>
            {text}
          </button>
        ))}
      </p>
      <p class="row">
        {shows.map(([what, where]) => (
          <button type="button" key={what} onClick={() => void printed(where, said)}>
            Print the {what}
          </button>
        ))}
        {shows.map(([what, where]) => (
          <a key={what} href={where} target="_blank" rel="noopener">
            Show the {what}
          </a>
        ))}
      </p>
      {able.map(([what, , saving]) => (
        <SaidOfSaving key={what} of={saving} />
      ))}
      {enough && <SaveSettings settings={fileOf(site, camera)} id={`save-answer-${place}`} />}
    </div>
  );
}

async function printed(address: string, said: Signal<string>): Promise<void> {
  said.value = (await printPage(address))
    ? ''
    : 'The browser opened no window to print from: let this page open windows, or show it and print it there.';
}

/** What is recommended as a settings file: dial positions, for all of it stands at some. */
function fileOf({ recommended: { settings } }: SiteResult, camera: Camera): SettingsFile {
  return {
    version: 1,
    controls: controlsOf(settings, camera),
    ...(settings.mask && { mask: settings.mask }),
  };
}
