import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Outgoing, Wanted } from '../../../src/clip/exchange/format.js';
import { webVtt } from '../../../src/clip/exchange/webvtt/webvtt.js';
import type { Labels } from '../../../src/score/labels.js';
import { anyLabels, folderOf, outgoing, said, texts, wanted } from './made.js';

const write = (labels: Partial<Labels>, more: Partial<Outgoing> = {}) => {
  const written = webVtt.write(outgoing(labels, more));
  return { ...written, text: texts(written)['my-clip.vtt']! };
};
const read = (text: string | Uint8Array, more: Partial<Wanted> = {}) =>
  webVtt.read(join(folderOf({ 'a.vtt': text }), 'a.vtt'), wanted({ start: null, ...more }));
const cue = (...lines: string[]) => `WEBVTT\n\n${lines.join('\n')}\n`;

const wren = {
  start: 12.4,
  end: 19,
  type: 'animal',
  name: 'wren',
  count: 2,
  box: [0.1, 0.2, 0.3, 0.2],
} as Labels['visits'][number];
/** Whole milliseconds within the clip. */
const ms = fc.integer({ min: 0, max: 60_000 }).map((n) => n / 1000);

/** What the grammar of a WebVTT file body says (W3C, section 4.1), by its blocks. */
function grammarFaults(text: string): string[] {
  const time = String.raw`(\d{2,}:)?[0-5]\d:[0-5]\d\.\d{3}`;
  const [head, ...blocks] = text.replace(/\n$/, '').split(/\n{2,}/);
  const faults = head === 'WEBVTT' ? [] : [`header ${head}`];
  let last = '';
  for (const block of blocks) {
    const lines = block.split('\n');
    if (/^NOTE([ \t\n]|$)/.test(block)) {
      if (block.includes('-->')) faults.push(`arrow in a comment: ${block}`);
      continue;
    }
    const [id, times, ...payload] = lines;
    if (id!.includes('-->')) faults.push(`arrow in an identifier: ${id}`);
    if (!new RegExp(`^${time} --> ${time}$`).test(times ?? '')) faults.push(`times ${times}`);
    const [from, to] = (times ?? '').split(' --> ') as [string, string];
    if (to <= from || from < last) faults.push(`order ${last} ${times}`);
    last = from;
    const textOf = payload.join('\n');
    if (textOf === '' || textOf.includes('-->') || /[<>]|&(?!(amp|lt|gt);)/.test(textOf)) faults.push(textOf);
  }
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
  if (/[\x00\r]|\p{Cs}/u.test(text)) faults.push('characters');
  return faults;
}

describe('what is written', () => {
  it('keeps to the grammar, whatever the labels say', () => {
    const times = fc.double({ min: 0, max: 60, noNaN: true });
    fc.assert(
      fc.property(anyLabels(times), (labels) => {
        expect(grammarFaults(write(labels).text)).toEqual([]);
      }),
      { numRuns: 100 },
    );
  });

  it('says for people who it was, and beneath what else is known', () => {
    expect(write({ visits: [wren] }).text).toMatch(
      /\n\nvisit 1\n00:00:12\.400 --> 00:00:19\.000\nwren\ntype: animal\ncount: 2\nbox: 0\.1 0\.2 0\.3 0\.2\n$/,
    );
  });

  it('says what it cannot hold, and how much that is', () => {
    const { notHeld } = write({
      visits: [
        { start: 1.2345, end: 2, type: 'animal' },
        { start: 3, end: 3, type: 'animal' },
      ],
      reviewed: [{ start: 0, end: 30 }],
    });
    expect(notHeld.map(({ what, count, kept }) => [what, count, kept])).toEqual([
      ['fractions of a millisecond', 1, null],
      ['stretches without length', 1, null],
      ['reviewed', 1, 'a comment'],
    ]);
    expect(notHeld[0]!.says).toContain('up to 0.5 ms');
  });
});

describe('there and back', () => {
  it('nothing is lost of what lasts and has whole milliseconds, whatever the labels say', async () => {
    await fc.assert(
      fc.asyncProperty(anyLabels(ms, 0.001), async (labels) => {
        expect(said(await read(write(labels).text))).toEqual(said({ labels }));
      }),
      { numRuns: 100 },
    );
  });

  it('past 99 hours', async () => {
    const visits = [{ ...wren, start: 400_000.001, end: 400_001.5 }];
    const { text } = write({ visits });
    expect(text).toContain('111:06:40.001 --> 111:06:41.500');
    const clip = { ...wanted().clip, seconds: 500_000 };
    expect((await read(text, { clip })).labels.visits).toEqual(visits);
  });
});

describe('cues of others', () => {
  it('are animals called as their first line says', async () => {
    const { labels, notes } = await read(
      cue('00:01.000 --> 00:04.000 line:0 align:start', '<v Jo><b>wren</b> &amp; chick', 'second line'),
    );
    expect(labels).toEqual({
      version: 1,
      visits: [{ start: 1, end: 4, type: 'animal', name: 'wren & chick' }],
    });
    expect(notes.join()).toContain('of 1 cue of several lines the first is taken as the name');
    expect(notes.join()).toContain('all of the clip is taken to have been');
  });

  it.each<[string, string]>([
    ['CRLF', cue('00:01.000 --> 00:04.000', 'wren').replaceAll('\n', '\r\n')],
    ['CR', cue('00:01.000 --> 00:04.000', 'wren').replaceAll('\n', '\r')],
    [
      'a mark at the start and words behind WEBVTT',
      `\ufeff${cue('00:01.000 --> 00:04.000', 'wren').replace('WEBVTT', 'WEBVTT - made by hand\nKind: metadata')}`,
    ],
    ['tabs and blanks around the arrow', cue('00:01.000 \t-->\t00:04.000  ', 'wren')],
    [
      'styles, regions and comments',
      cue(
        'STYLE',
        '::cue { color: red }',
        '',
        'REGION',
        'id:a',
        '',
        'NOTE no',
        '',
        'NOTE',
        '',
        'x',
        '00:01.000 --> 00:04.000',
        'wren',
      ),
    ],
    ['no line end at the end', cue('00:01.000 --> 00:04.000', 'wren').trimEnd()],
    ['hours', cue('000:00:01.000 --> 00:00:04.000', 'wren')],
  ])('are read with %s', async (_, text) => {
    expect((await read(text)).labels.visits).toEqual([{ start: 1, end: 4, type: 'animal', name: 'wren' }]);
  });

  it('may overlap, stand in any order, and hold nothing', async () => {
    const { labels } = await read(
      cue(
        '00:05.000 --> 00:09.000',
        'b',
        '',
        '00:01.000 --> 00:06.000',
        'a',
        '',
        '00:02.000 --> 00:03.000',
        '',
      ),
    );
    expect(labels.visits).toEqual([
      { start: 5, end: 9, type: 'animal', name: 'b' },
      { start: 1, end: 6, type: 'animal', name: 'a' },
      { start: 2, end: 3, type: 'animal' },
    ]);
  });

  it('outside the clip are left out and counted', async () => {
    const { outside, cut, labels } = await read(
      cue('00:50.000 --> 02:00.000', 'a', '', '01:00.000 --> 01:01.000', 'b'),
    );
    expect({ outside, cut, visits: labels.visits.length }).toEqual({ outside: 1, cut: 1, visits: 1 });
  });

  it('of nothing but signs of tags are read as they stand', async () => {
    const { labels } = await read(cue('00:01.000 --> 00:04.000', '<'.repeat(99_999)));
    expect(labels.visits[0]!.name).toHaveLength(99_999);
  });

  it('a character that no text holds is replaced, as the standard has it', async () => {
    const { labels } = await read(cue('00:01.000 --> 00:04.000', 'a\0b'));
    expect(labels.visits).toMatchObject([{ name: 'a\ufffdb' }]);
  });
});

describe('refused, naming file and line', () => {
  it.each<[string, string, RegExp]>([
    ['nothing', '', /a\.vtt: line 1: expected WEBVTT, with which such a file begins, found ""/],
    ['another format', '1\n00:00:01,000 --> 00:00:04,000\nwren\n', /line 1: expected WEBVTT.*found "1"/],
    ['WEBVTT with a letter behind', 'WEBVTTX\n', /found "WEBVTTX"/],
    [
      'a cue right under WEBVTT',
      'WEBVTT\n00:01.000 --> 00:04.000\nx\n',
      /line 2: expected an empty line before the first cue/,
    ],
    [
      'a text that nobody reads, and that would take minutes to look for tags in',
      cue('00:01.000 --> 00:04.000', '<'.repeat(5_000_000)),
      /line 4: expected at most 100000 characters in a cue/,
    ],
    [
      'a cue further under it',
      'WEBVTT\nKind: metadata\n00:01.000 --> 00:04.000\nx\n',
      /line 3: expected an empty line before the first cue/,
    ],
    [
      'an end before the start',
      cue('00:04.000 --> 00:01.000', 'x'),
      /line 3: expected a cue that ends after it begins/,
    ],
    ['an end at the start', cue('00:04.000 --> 00:04.000', 'x'), /line 3: .*ends after it begins/],
    [
      'commas for points',
      cue('00:01,000 --> 00:04,000', 'x'),
      /line 3: expected times such as .*three decimals/,
    ],
    ['two decimals', cue('00:01.00 --> 00:04.00', 'x'), /three decimals/],
    ['75 seconds', cue('00:75.000 --> 02:04.000', 'x'), /line 3: expected times/],
    ['no blanks around the arrow', cue('00:01.000-->00:04.000', 'x'), /line 3: expected times/],
    ['no times', cue('wren', 'hedgehog'), /line 4: expected times such as/],
    [
      'two cues without an empty line',
      cue('00:01.000 --> 00:04.000', 'x', '00:05.000 --> 00:06.000', 'y'),
      /line 5: expected an empty line before the next cue/,
    ],
    [
      'an arrow in a comment',
      cue('NOTE x', '00:01.000 --> 00:04.000'),
      /line 4: expected a comment without -->/,
    ],
    [
      'a count that is none',
      cue('00:01.000 --> 00:04.000', 'x', 'type: animal', 'count: many'),
      /line 4: the cue "": expected lines as this program writes them/,
    ],
    [
      'a box that is none',
      cue('00:01.000 --> 00:04.000', 'x', 'type: animal', 'box: 1 2'),
      /mend count, box or name/,
    ],
    [
      'a name that is no JSON',
      cue('00:01.000 --> 00:04.000', 'x', 'type: animal', 'name: "x'),
      /mend count, box or name/,
    ],
    [
      'a cause that is none',
      cue('00:01.000 --> 00:04.000', 'fog', 'type: cause'),
      /line 4: expected one of wind, .*found "fog"/,
    ],
    [
      'a broken comment of ours',
      cue('NOTE perchmark', '{"reviewed":1}'),
      /reviewed: expected a list in \[ \]/,
    ],
    [
      'cues of another film',
      cue('05:01.000 --> 05:04.000', 'x'),
      /expected cues within the 60 s of the clip my-clip, found none of 1/,
    ],
  ])('%s', async (_, text, message) => {
    await expect(read(text)).rejects.toThrow(message);
  });
});
