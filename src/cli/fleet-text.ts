import type { Status } from '../fleet/status.js';
import type { SubmitResult } from '../fleet/submit.js';
import type { WorkResult } from '../fleet/work.js';
import { changesText, fleetCells, fleetHeads, leftText, runText } from '../words/fleet-wording.js';
import { plural } from '../words/ratios.js';
import { fold, listed, tableOrLists } from './terminal.js';

export function submitText({ run, clips, jobs, queued, ended }: SubmitResult): string {
  if (ended) return fold(`${run}: worked out before, of ${plural(clips, 'clip')}; nothing is left to do.`);
  const before = queued === jobs ? '' : ` ${jobs - queued} were in the queue already.`;
  return fold(
    `${run}: ${plural(queued, 'job')} of ${plural(clips, 'clip')} put into the queue.${before} Its results will be in fleet/results/${run} of the shared folder.`,
  );
}

export function workText({ done, bad, failed, lost, runs }: WorkResult): string {
  const apart = [
    ...(bad > 0 ? [`${bad} of clips that cannot be used`] : []),
    ...(failed > 0 ? [`${failed} failed here`] : []),
    ...(lost > 0 ? [`${lost} were taken by others meanwhile`] : []),
  ];
  const rest = apart.length === 0 ? '' : `; ${apart.join(', ')}`;
  return fold(`${plural(done, 'job')} done${rest}${runs.length > 0 ? `, for ${runs.join(', ')}` : ''}.`);
}

export function statusText({ runs, sites }: Status): string {
  if (runs.length === 0) return 'Nothing was submitted yet.';
  const parts = runs.flatMap((run) => [
    fold(runText(run)),
    ...listed(
      'To look at',
      run.troubles.flatMap(({ message }) => (message === run.message ? [] : [message])),
    ),
  ]);
  const rows = sites.map((site) => fleetCells(site, leftText(site.progress)));
  return [...parts, changesText(sites), tableOrLists([...fleetHeads], rows)].join('\n\n');
}
