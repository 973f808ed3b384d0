import { describe, expect, it } from 'vitest';
import { frameLine, TriggerLines } from '../../../src/check/firmware/protocol.js';

/** Of frames a third of a second apart. */
const times = Float64Array.from({ length: 30 }, (_, k) => k / 3);
const answering = (frames: number): TriggerLines => {
  const lines = new TriggerLines(times);
  for (let k = 0; k < frames; k++) lines.give();
  return lines;
};

describe('what is sent before a frame', () => {
  it.each<[number, string]>([
    [0, '7 0 12\n'],
    [10, '7 10 12\n'],
    [1 / 3, '7 0.333333333 12\n'],
    [0.5, '7 0.5 12\n'],
    [86_400.25, '7 86400.25 12\n'],
  ])('%d s in plain decimals', (time, line) => {
    expect(frameLine(7, time, 12)).toBe(line);
  });
});

describe('what is read as triggers', () => {
  it('is the same however the output is cut into pieces, with and without a last line break', () => {
    const text = '0\n1.000\r\n 2.5 \n3e0\n4.333';
    const whole = answering(30);
    whole.take(text);
    whole.end();
    const cut = answering(30);
    for (const letter of `${text}\n`) cut.take(letter);
    cut.end();
    expect(whole.times).toEqual([0, 1, 2.5, 3, 13 / 3]);
    expect(cut.times).toEqual(whole.times);
  });

  it('a time in three decimals is that of its frame, also where it is rounded up past the newest', () => {
    const lines = answering(3);
    lines.take('0.333\n0.667\n');
    expect(lines.times).toEqual([1 / 3, 2 / 3]);
  });

  it.each<[string, string, RegExp]>([
    ['a word', '1\nfired\n', /line 2 of its output: expected the time of a trigger.*found "fired"/],
    ['an empty line', '\n', /found ""/],
    ['a comment', '# ready\n', /found "# ready"/],
    ['a time below 0', '-1\n', /found "-1"/],
    ['no number', 'NaN\n', /found "NaN"/],
    ['a number without end', '1e999\n', /found "1e999"/],
    ['two on a line', '1 2\n', /found "1 2"/],
    ['what acts on a terminal', '\u001b[2J\u0000\n', /found "\\u001b\[2J\\u0000"/],
    ['a line without end', '1'.repeat(200_000), /found "1{77}\.\.\."/],
    ['the same twice', '1\n1.0001\n', /expected times that rise, found 1\.0001 after 1;/],
    ['an earlier one', '2\n1\n', /expected times that rise, found 1 after 2;/],
    [
      'one to come',
      '3.34\n',
      /expected a time that it has seen, found 3\.34, after its last frame so far, at 3 s/,
    ],
    [
      'more than frames',
      '0\n0.1\n0.2\n0.3\n0.4\n0.5\n0.6\n0.7\n0.8\n0.9\n1.1\n',
      /at most one trigger a frame/,
    ],
  ])('refuses %s', (_, text, message) => {
    expect(() => answering(10).take(text)).toThrow(message);
  });

  it('refuses what comes before any frame', () => {
    expect(() => answering(0).take('0\n')).toThrow(/found 0, before any frame/);
  });

  it('refuses a last line that is none', () => {
    const lines = answering(10);
    lines.take('1\nbye');
    expect(() => lines.end()).toThrow(/found "bye"/);
  });
});
