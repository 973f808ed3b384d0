import { parseHTML } from 'linkedom';
import { describe, expect, it } from 'vitest';
import { doubtsTable, limitSection, rainTable } from '../../src/report/weather-sections.js';
import { tuned } from './example.js';

const cells = (markup: { text: string }) => {
  const { document } = parseHTML(`<html><body>${markup.text}</body></html>`);
  return [...document.querySelectorAll('tr')].map((row) =>
    [...row.children].map((cell) => cell.textContent?.replace(/\s+/g, ' ') ?? ''),
  );
};
const [doubt] = tuned.doubts;

describe('what simulated weather rests on, in the report', () => {
  it('holds a row for each assumption that changes something, with what would be advised', () => {
    const half = { ...doubt!, times: 0.5, taken: 0.5, flips: false, recall: 0.6, falsePerHour: 20 };
    const rows = cells(doubtsTable({ ...tuned, doubts: [half, doubt!] }));
    expect(rows[0]).toEqual(['assumption', 'half', 'twice']);
    expect(rows[1]![0]).toMatch(/^how far branches go.*would be another: at twice sensitivity 4/);
    expect(rows[1]!.slice(1)).toEqual(['20 (60 %)', '90 (50 %)']);
    expect(rows[2]![0]).toBe('0.3 of their length; assumed');
  });

  it('says whether a second drawing of chance changes the advice as well', () => {
    const advice = (again: boolean) =>
      cells(doubtsTable({ ...tuned, doubts: [{ ...doubt!, again }] }))[1]![0];
    expect(advice(true)).toMatch(/at twice sensitivity 4, and in a second drawing of chance\./);
    expect(advice(false)).toMatch(/at twice sensitivity 4, but not in a second drawing of chance\./);
  });

  it('says at how much a figure was taken that goes no further', () => {
    const [, row] = cells(doubtsTable({ ...tuned, doubts: [{ ...doubt!, taken: 1.43 }] }));
    expect(row![1]).toMatch(/at 1\.43 times$/);
  });

  it('names what changes nothing in a sentence', () => {
    const idle = { ...doubt!, flips: false, ...doubt!.asAssumed };
    const { text } = doubtsTable({ ...tuned, doubts: [idle] });
    expect(text).toMatch(
      /Nothing changes with half or twice of these: how far branches go \(0\.3 of their length/,
    );
    expect(cells({ text })).toEqual([]);
  });

  it('tells false triggers of each part of the rain', () => {
    expect(cells(rainTable(tuned)).slice(1)).toEqual([
      ['near drops', '30', '12'],
      ['haze', '0', '–'],
    ]);
    expect(rainTable({ ...tuned, rain: null }).text).toBe('');
  });

  it('tells each light that was tried', () => {
    expect(cells(limitSection(tuned))[2]).toEqual(['5 lux', '6 of 9', '67 % (40 to 90)']);
    expect(limitSection({ ...tuned, limit: null }).text).toBe('');
  });
});
