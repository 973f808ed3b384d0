import type { Settings } from '../camera/settings.js';
import type { Checked, ClipChecked } from '../check/check.js';
import type { Test } from '../check/infer.js';
import type { LimitResult } from '../check/limits.js';
import type { CheckAbout } from '../jobs/check.js';
import type { Score } from '../score/score.js';
import { againstWhat, answersText, changesOf, differText, nothingChanged } from '../words/check-list.js';
import { byBouts, plural, rate, share, withinCooldown } from '../words/ratios.js';
import { tidy } from '../words/wording.js';
import { fold, strong, table } from './terminal.js';

type Cooled = Pick<Settings, 'cooldown'>;

/**
 * A check for people: what happened here, what it means elsewhere, limits, the verdict.
 * @param settings those that were replayed; a program of the user's may fire more often than they let it
 */
export function checkText(checked: Checked, about: CheckAbout, settings: Cooled): string {
  const held = about.command === null ? settings : { cooldown: 0 };
  if (about.accepted && about.before === null) return verdictText(checked, about);
  return [
    againstWhat(checked, about)
      .map((line) => fold(line))
      .join('\n'),
    happened(checked, held),
    meaning(checked),
    limitsText(checked.limits, held),
    verdictText(checked, about),
  ]
    .filter((part) => part !== '')
    .join('\n\n');
}

function happened({ clips, before, now }: Checked, settings: Cooled): string {
  const row = (name: string, verdict: string, was: Score | null, is: Score | null) => [
    name,
    verdict,
    from(was, is, (score) => `${score.caught} of ${score.visits}`),
    from(was, is, (score) => String(score.falseTriggers)),
    is ? rate(byBouts(is, settings)) : '-',
  ];
  const rows = clips.map((clip) => row(clip.clip, clip.verdict, clip.before, clip.now));
  if (clips.length > 1 && now) rows.push(row('together', '', before, now));
  const heads = ['clip', 'verdict', 'visits caught', 'false triggers', 'an hour now, 90 %'];
  return [strong('What happened here, exactly'), table(heads, rows), ...clips.flatMap(clipText)].join('\n');
}

/** 3 of 5, was 4 of 5 */
function from(was: Score | null, is: Score | null, text: (score: Score) => string): string {
  if (!is) return '-';
  return was && text(was) !== text(is) ? `${text(is)}, was ${text(was)}` : text(is);
}

const MOST_LISTED = 24;

function clipText(clip: ClipChecked): string[] {
  const changes = changesOf(clip);
  if (changes.length === 0) return [];
  const lines = changes.map(({ what, entries }) => {
    const more =
      entries.length > MOST_LISTED ? ` and ${entries.length - MOST_LISTED} more (--json lists all)` : '';
    return indented(`${what}: ${entries.slice(0, MOST_LISTED).join(', ')}${more}`);
  });
  return ['', strong(clip.clip), ...lines];
}

function indented(text: string): string {
  return fold(text, 88)
    .split('\n')
    .map((line, i) => (i === 0 ? `  ${line}` : `    ${line}`))
    .join('\n');
}

function meaning({ inference }: Checked): string {
  const { tests, assumes, level, fewest } = inference;
  const answers = answersText(inference);
  if (answers === null) return '';
  if (nothingChanged(inference)) return fold(answers);
  const able = tests.filter(({ adjusted }) => adjusted !== null);
  const shown = tests.filter(({ clip, adjusted }) => clip === null || adjusted !== null);
  const how =
    able.length === 0
      ? `Fewer than ${fewest} changes are never an answer.`
      : `Chance: how often so uneven a result comes about where there is no difference. Corrected: for ${plural(able.length, 'test')} that could tell; up to ${level} it is an answer, from ${fewest} changes on.`;
  return [
    strong('What it means elsewhere, inferred'),
    fold(`For more footage like this, ${answers}`),
    table(['', 'of', 'for the worse', 'for the better', 'chance', 'corrected', 'answer'], shown.map(testRow)),
    fold(how),
    fold(`Assumed: ${assumes.join('; ')}.`),
  ].join('\n');
}

function testRow({ clip, of, worse, better, units, p, adjusted, answer }: Test): string[] {
  const chance = (x: number) => (x < 0.0001 ? '<0.0001' : String(Number(x.toPrecision(2))));
  return [
    clip ?? 'all clips',
    of === 'visits' ? 'visits' : `false triggers, ${plural(units, 'bout')}`,
    String(worse),
    String(better),
    chance(p),
    adjusted === null ? '-' : chance(adjusted),
    answer,
  ];
}

function limitsText(limits: readonly LimitResult[], settings: Cooled): string {
  if (limits.length === 0) return '';
  const rows = limits.map(({ clip, limit, bound, value, interval, holds, accepted }) => {
    const ratio = { value, ...interval };
    return [
      clip ?? 'all clips',
      limit === 'recall' ? 'visits caught' : 'false an hour',
      limit === 'recall' ? `at least ${tidy(100 * bound)} %` : `at most ${tidy(bound)}`,
      limit === 'recall' ? share(ratio) : rate(withinCooldown(ratio, settings)),
      holds ? 'holds' : accepted ? 'broken, accepted' : 'broken',
    ];
  });
  const heads = ['', 'limit on', 'asked for', 'here, 90 %', ''];
  return `${strong('Limits')}\n${table(heads, rows)}`;
}

function verdictText(checked: Checked, { file, command, against, before, accepted }: CheckAbout): string {
  if (accepted) return fold(`Accepted, in ${accepted.file}, because: ${accepted.why}`);
  if (checked.verdict === 'holds') {
    // What differs without a visit lost holds; who asks whether the code does as described is to see it here too.
    return against && command !== null
      ? fold(
          `${strong('Holds')}: no visit is newly lost and no limit broken; against the description, ${differText(checked.clips)}.`,
        )
      : strong('Holds.');
  }
  // Where nothing was accepted yet that is said once, not of every clip.
  const lines =
    against || before !== null
      ? checked.reasons.map(({ text }) => text)
      : ['nothing was accepted yet', ...checked.reasons.filter(({ limit }) => limit).map(({ text }) => text)];
  const by = command === null ? '' : ' --camera-command "..."';
  const next = [
    fold('Where that is right, accept it, and keep the file with the suite:'),
    `  perchmark check ${file}${by} --accept --why "..."`,
  ];
  return [strong('Fails:'), ...lines.map(indented), ...(against ? [] : next)].join('\n');
}
