import type { AgainstResult, Side, Silence, TriggerOfOne, VisitOfOne } from '../diagnose/against/against.js';
import { reasonText, sentence } from '../words/diagnosis-wording.js';
import { clock, plural } from '../words/ratios.js';
import { faint, fold, item, strong, table } from './terminal.js';

/** What each side is called: the files that the settings came from. */
export type Names = Record<Side, string>;

/** How two groups of settings differ, clip by clip: counts first, then visits, then triggers, each in both directions. */
export function againstText(results: readonly AgainstResult[], names: Names): string {
  return results.flatMap((result) => clipText(result, names)).join('\n\n');
}

const sides = ['these', 'other'] as const;
const opposite = { these: 'other', other: 'these' } as const;

function clipText(result: AgainstResult, names: Names): string[] {
  const { clip, both, triggers, visits } = result;
  const head = strong(`${clip}: ${names.these} against ${names.other}`);
  if (triggers.length === 0 && visits.length === 0) {
    return [
      `${head}\n${fold(`They do the same here: ${plural(both.triggers, 'trigger')}, ${plural(both.visits, 'visit')} caught.`)}`,
    ];
  }
  return [
    `${head}\n${counts(result, names)}`,
    ...sides.flatMap((side) =>
      visitsText(
        visits.filter(({ caughtBy }) => caughtBy === side),
        names[side],
        names[opposite[side]],
      ),
    ),
    ...sides.flatMap((side) =>
      triggersText(
        triggers.filter(({ firedBy }) => firedBy === side),
        names[side],
        names[opposite[side]],
      ),
    ),
  ];
}

function counts({ both, triggers, visits }: AgainstResult, names: Names): string {
  const only = (side: Side) => {
    const fired = triggers.filter(({ firedBy }) => firedBy === side);
    return [
      `only ${names[side]}`,
      String(fired.length),
      String(fired.filter(({ verdict }) => verdict === 'false').length),
      String(visits.filter(({ caughtBy }) => caughtBy === side).length),
    ];
  };
  return table(
    ['', 'triggers', 'of them false', 'visits caught'],
    [['both alike', String(both.triggers), '', String(both.visits)], only('these'), only('other')],
  );
}

/** Entries of a list that are shown. */
const MOST_SHOWN = 12;

function visitsText(visits: readonly VisitOfOne[], by: string, missing: string): string[] {
  if (visits.length === 0) return [];
  const lines = visits
    .slice(0, MOST_SHOWN)
    .map((visit) =>
      item(
        `${clock(visit.start)}-${clock(visit.end)}`,
        `${visit.name ?? 'an animal'}: ${reasonText(visit)}. ${sentence(visit.evidence)}`,
      ),
    );
  return [
    [
      strong(fold(`Caught by ${by} alone; why ${missing} misses them`)),
      ...lines,
      ...more(visits.length),
    ].join('\n'),
  ];
}

const silenceWords: Record<Silence, string> = {
  threshold: 'too faint',
  'minimum area': 'too small',
  'most changed': 'too large',
  persistence: 'too brief',
  mask: 'masked',
  busy: 'the camera was busy',
  reference: 'compared with something else by then',
};

const verdictWords = { true: 'an animal', false: 'nothing', ignored: 'ignored' } as const;

/** The triggers of one side counted by why the other did not fire, with the first of each reason. */
function triggersText(triggers: readonly TriggerOfOne[], by: string, silent: string): string[] {
  if (triggers.length === 0) return [];
  const reasons = [...new Set(triggers.map(({ why }) => why))]
    .map((why) => triggers.filter((trigger) => trigger.why === why))
    .sort((a, b) => b.length - a.length);
  const counted = reasons.map((all) => `${silenceWords[(all[0] as TriggerOfOne).why]} ${all.length}`);
  const firsts = reasons.map(([first]) => {
    const { time, verdict, why, evidence } = first as TriggerOfOne;
    const of = verdict ? `${verdictWords[verdict]}; ` : '';
    return item(clock(time, 1), `${of}${silenceWords[why]}. ${sentence(evidence)}`);
  });
  const head = `Fired by ${by} alone ${plural(triggers.length, 'time')}; why ${silent} does not: ${counted.join(', ')}`;
  return [[strong(fold(head)), ...firsts, ...more(triggers.length, firsts.length)].join('\n')];
}

function more(all: number, shown = Math.min(all, MOST_SHOWN)): string[] {
  return all > shown ? [faint(`  ${shown} of ${all}; --json lists all`)] : [];
}
