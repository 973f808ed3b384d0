import { Problem } from '../../../base/problem.js';
import { quoted } from '../../../base/text.js';
import type { Stretch } from '../../../score/labels.js';
import { secondsOfVtt } from './clock.js';

/** A cue as it stands in a file; its settings, which say where a player shows it, left out. */
export interface CueRead extends Stretch {
  /** Of its line of times, from 1. */
  line: number;
  id: string;
  /** Lines parted by \n, escapes and tags as they are. */
  payload: string;
}

export interface VttRead {
  cues: CueRead[];
  /** Comments whole, with the word NOTE. */
  notes: string[];
}

/** Characters of a cue's text; more than anybody reads while it is shown. */
const MOST_TEXT = 100_000;
/** More cues than a clip has frames in a day. */
const MOST_CUES = 1_000_000;

/**
 * The cues of a WebVTT file (W3C, https://www.w3.org/TR/webvtt1/), strictly by its syntax: where a player would skip a cue without a
 * word, labels would be lost, so it is refused. Regions and styles are passed over.
 * @param text with any of the three line ends, with or without a byte order mark
 * @throws Problem naming file and line
 */
export function cuesOf(text: string, file: string): VttRead {
  // As the standard has it of a character that no text holds.
  const lines = text
    .replace(/^\ufeff/, '')
    .replaceAll('\0', '\ufffd')
    .split(/\r\n|\n|\r/);
  if (!/^WEBVTT(?:[ \t].*)?$/.test(lines[0] ?? '')) {
    throw new Problem(
      'bad-field',
      `${file}: line 1: expected WEBVTT, with which such a file begins, found ${quoted(lines[0] ?? '')}; give a WebVTT file`,
    );
  }
  const cues: CueRead[] = [];
  const notes: string[] = [];
  let i = 1;
  // What stands right under the first line belongs to it; a cue there would go unseen.
  for (; i < lines.length && lines[i] !== ''; i++) {
    if (lines[i]!.includes('-->')) throw fault(file, i + 1, 'an empty line before the first cue', lines[i]!);
  }
  for (; i < lines.length; i++) {
    if (lines[i] === '') continue;
    const begin = i;
    while (i < lines.length && lines[i] !== '') i++;
    const block = lines.slice(begin, i);
    if (/^NOTE(?:[ \t]|$)/.test(block[0]!)) {
      const arrow = block.findIndex((line) => line.includes('-->'));
      if (arrow >= 0)
        throw fault(
          file,
          begin + 1 + arrow,
          'a comment without -->, or an empty line before a cue',
          block[arrow]!,
        );
      notes.push(block.join('\n'));
    } else if (!/^(STYLE|REGION)[ \t]*$/.test(block[0]!) || block[1]?.includes('-->')) {
      if (cues.length >= MOST_CUES) throw fault(file, begin + 1, `at most ${MOST_CUES} cues`, 'more');
      cues.push(cueOf(block, begin + 1, file));
    }
  }
  return { cues, notes };
}

/** @param line of the block's first line, from 1 */
function cueOf(block: readonly string[], line: number, file: string): CueRead {
  const at = block[0]!.includes('-->') ? 0 : 1;
  const times = block[at];
  if (times === undefined || !times.includes('-->')) {
    throw fault(file, line + at, 'times such as 00:01.000 --> 00:04.000', times ?? '');
  }
  const parts = /^[ \t]*(\S+)[ \t]+-->[ \t]+(\S+)(?:[ \t].*)?$/.exec(times);
  const start = parts ? secondsOfVtt(parts[1]!) : null;
  const end = parts ? secondsOfVtt(parts[2]!) : null;
  if (start === null || end === null) {
    throw fault(file, line + at, 'times such as 00:01.000 --> 00:04.000, with three decimals', times);
  }
  if (end <= start) throw fault(file, line + at, 'a cue that ends after it begins', times);
  const payload = block.slice(at + 1);
  const arrow = payload.findIndex((one) => one.includes('-->'));
  if (arrow >= 0)
    throw fault(file, line + at + 1 + arrow, 'an empty line before the next cue', payload[arrow]!);
  const text = payload.join('\n');
  if (text.length > MOST_TEXT)
    throw fault(file, line + at + 1, `at most ${MOST_TEXT} characters in a cue`, text);
  return { line: line + at, id: at === 1 ? block[0]! : '', start, end, payload: text };
}

function fault(file: string, line: number, expected: string, found: string): Problem {
  return new Problem(
    'bad-field',
    `${file}: line ${line}: expected ${expected}, found ${quoted(found)}; mend it`,
  );
}
