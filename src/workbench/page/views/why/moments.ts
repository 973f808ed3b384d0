import type { ExplainedTrigger, MissedVisit } from '../../../../diagnose/diagnosis.js';
import { TIME_TOLERANCE } from '../../../../engine/triggers.js';
import type { Judged } from '../../../../score/replayed.js';
import { causeText, reasonText } from '../../../../words/diagnosis-wording.js';
import { clock } from '../../../../words/wording.js';
import type { DiagnosisTold } from '../../../diagnosis-protocol.js';

/** One thing that went wrong. Times in seconds from the clip's start. */
export type Moment = { id: string; time: number } & (
  | { kind: 'nothing' }
  | { kind: 'missed'; start: number; end: number; name: string | null }
);

/** What it fired at nothing, trigger by trigger, and missed visits, in order of time. */
export function momentsOf({ triggers, visits }: Pick<Judged, 'triggers' | 'visits'>): Moment[] {
  const nothing = triggers.flatMap(({ time, verdict }): Moment[] =>
    verdict === 'false' ? [{ id: `nothing ${time}`, kind: 'nothing', time }] : [],
  );
  const missed = visits.flatMap(({ start, end, name, caught }, i): Moment[] =>
    caught
      ? []
      : [
          {
            id: `missed ${i} ${start}`,
            kind: 'missed',
            time: (start + end) / 2,
            start,
            end,
            name: name ?? null,
          },
        ],
  );
  return [...nothing, ...missed].sort((a, b) => a.time - b.time);
}

/** 1:07.2: fired at nothing; 0:43-0:50: house sparrow missed. */
export function momentName(moment: Moment): string {
  return moment.kind === 'nothing'
    ? `${clock(moment.time, 1)}: fired at nothing`
    : `${clock(moment.start)}-${clock(moment.end)}: ${moment.name ?? 'an animal'} missed`;
}

/** What was found out about a moment; null where the diagnosis has nothing of it. */
export function triggerOf(told: DiagnosisTold, moment: Moment): ExplainedTrigger | null {
  return told.explained.find(({ time }) => Math.abs(time - moment.time) <= TIME_TOLERANCE) ?? null;
}

export function missedOf(told: DiagnosisTold, moment: Moment): MissedVisit | null {
  if (moment.kind !== 'missed') return null;
  return (
    told.missed.find(
      ({ start, end }) =>
        Math.abs(start - moment.start) <= TIME_TOLERANCE && Math.abs(end - moment.end) <= TIME_TOLERANCE,
    ) ?? null
  );
}

/** In a few words, for the list; null where it is not known. */
export function inShort(told: DiagnosisTold | null, moment: Moment): string | null {
  if (!told) return null;
  if (moment.kind === 'missed') {
    const missed = missedOf(told, moment);
    return missed && reasonText(missed);
  }
  const trigger = triggerOf(told, moment);
  return trigger && causeText(trigger);
}
