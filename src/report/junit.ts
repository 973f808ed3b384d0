import type { Checked, ClipChecked, Reason } from '../check/check.js';
import type { LimitName, LimitResult } from '../check/limits.js';
import { changesOf } from '../words/check-list.js';
import { escaped } from './markup.js';

/**
 * A check in the common form of JUnit's XML, which CI services read: a test case for each clip, and one for each limit.
 * It bears no times, so that the same results give the same bytes.
 */
export function junitXml(title: string, checked: Checked): string {
  const because = (clip: string | null, limit: LimitName | null) =>
    checked.reasons.find((reason) => reason.clip === clip && reason.limit === limit);
  const clips = checked.clips.map((clip) =>
    caseOf('clips', clip.clip, because(clip.clip, null), linesOf(clip)),
  );
  const limits = checked.limits.map((limit) =>
    caseOf('limits', limitName(limit), because(limit.clip, limit.limit), limitLine(limit)),
  );
  const failures = (cases: readonly ReplayedClip[]) => cases.filter(({ failed }) => failed).length;
  const all = [...clips, ...limits];
  const suite = (name: string, cases: readonly ReplayedClip[]) =>
    `  <testsuite name="${name}" tests="${cases.length}" failures="${failures(cases)}" errors="0" skipped="0">
${cases.map(({ xml }) => xml).join('')}  </testsuite>
`;
  return `<?xml version="1.0" encoding="UTF-8"?>
<testsuites name="${text(title)}" tests="${all.length}" failures="${failures(all)}" errors="0">
${suite('clips', clips)}${suite('limits', limits)}</testsuites>
`;
}

interface ReplayedClip {
  failed: boolean;
  xml: string;
}

/** @param said what there is to say, whether it failed or not */
function caseOf(group: string, name: string, reason: Reason | undefined, said: string): ReplayedClip {
  const body = reason
    ? `      <failure message="${text(reason.text)}">${text(said)}</failure>\n`
    : `      <system-out>${text(said)}</system-out>\n`;
  const xml = `    <testcase classname="${group}" name="${text(name)}">\n${body}    </testcase>\n`;
  return { failed: reason !== undefined, xml };
}

function linesOf(clip: ClipChecked): string {
  const changes = changesOf(clip).map(({ what, entries }) => `${what}: ${entries.join(', ')}`);
  return [`verdict: ${clip.verdict}`, ...changes].join('\n');
}

function limitName({ clip, limit, bound }: LimitResult): string {
  return `${clip ?? 'all clips'}: ${limit === 'recall' ? 'recall (visits caught, by luck too) at least' : 'falsePerHour at most'} ${bound}`;
}

function limitLine({ value, interval, holds, accepted }: LimitResult): string {
  const { low, high, n } = interval;
  const stands = holds ? 'holds' : accepted ? 'does not hold, as accepted' : 'does not hold';
  const short = (x: number) => Number(x.toPrecision(4));
  return `${stands}: ${short(value)} (90 % interval ${short(low)} to ${short(high)}, n ${n})`;
}

/** Escaped; without what XML 1.0 has no place for even then. */
function text(raw: string): string {
  return escaped(raw).replace(/[\uFFFE\uFFFF]/g, '');
}
