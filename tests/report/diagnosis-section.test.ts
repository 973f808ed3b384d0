import { parseHTML } from 'linkedom';
import { expect, test } from 'vitest';
import type { DiagnosisShown } from '../../src/report/diagnosis-data.js';
import { reportHtml } from '../../src/report/html.js';
import { quiet, unlabelled } from './diagnosis-example.js';
import { shown, shownOf } from './diagnosis-shown.js';
import { report } from './example.js';

const page = (diagnosis: DiagnosisShown) => reportHtml({ ...report, diagnosis });
const documentOf = (diagnosis: DiagnosisShown) => parseHTML(page(diagnosis)).document;
const textOf = (diagnosis: DiagnosisShown) => documentOf(diagnosis).body.textContent.replace(/\s+/g, ' ');
const headings = (diagnosis: DiagnosisShown) =>
  [...documentOf(diagnosis).querySelectorAll('h2')].map((h) => h.textContent);

const picture = {
  address: 'data:image/jpeg;base64,AAAA',
  width: 320,
  height: 240,
  hatched: true,
  blurred: false,
};
const bare: DiagnosisShown = { clips: [shownOf(unlabelled)], cures: [], notes: [], advice: [], taught: [] };

test('a diagnosis is told in sections: why, where, what was missed, what would help', () => {
  expect(headings(shown)).toEqual(
    expect.arrayContaining([
      'Why it fired falsely',
      'Where',
      'What it missed and why',
      'What would help',
      'What helps at the camera itself',
    ]),
  );
});

test('it says what rests on the model, what is exact and what is common practice', () => {
  const text = textOf(shown);
  expect(text).toContain('is an assumption');
  expect(text).toContain('no model’s work');
  expect(text).toContain('Common practice of the trade, not measured');
});

test('a clip without labels is explained, and nothing is said of missed visits or cures', () => {
  expect(headings(bare)).not.toContain('What it missed and why');
  expect(headings(bare)).not.toContain('What would help');
  expect(textOf(bare)).toContain('nothing tells which of these were false');
  expect(documentOf(bare).querySelectorAll('svg[aria-labelledby^="where-"]')).toHaveLength(1);
});

test('what the owner taught is told before the causes', () => {
  expect(textOf({ ...shown, taught: ['Your corrections help.'] })).toMatch(
    /Your corrections help\..*wind in vegetation/,
  );
  expect(textOf(shown)).not.toContain('corrections');
});

test('where nothing was false and nothing missed that is said', () => {
  const text = textOf({ clips: [shownOf(quiet)], cures: [], notes: [], advice: [], taught: [] });
  expect(text).toContain('Never fired falsely.');
  expect(text).toContain('Missed none: 1 of 1 visit caught.');
});

test('what was not tried or did not hold is said, with cures and without', () => {
  const notes = ['Masks were not tried.'];
  for (const cures of [[], shown.cures])
    expect(textOf({ ...shown, cures, notes })).toContain('Masks were not tried.');
});

test('names and evidence typed or made elsewhere do not become markup', () => {
  const hostile = '</h3><script>x</script>';
  const [first] = shown.clips;
  if (!first) throw new Error('the example has a clip');
  const pictures = {
    ...first.pictures,
    fired: { pictures: [{ ...picture, caption: hostile }], more: 0, people: 0 },
  };
  const missed = first.missed.map((visit) => ({ ...visit, name: hostile, evidence: hostile }));
  const document = documentOf({ ...shown, clips: [{ ...first, name: hostile, pictures, missed }] });
  expect(document.querySelectorAll('script')).toHaveLength(0);
});

test('every id on the page is there once, and every map stands on a picture that is there', () => {
  const backdrop = { address: 'data:image/jpeg;base64,AAAA', aspect: 0.75 };
  const html = page({ ...shown, clips: shown.clips.map((clip) => ({ ...clip, backdrop })) });
  const ids = [...html.matchAll(/ id="([^"]+)"/g)].map((m) => m[1]);
  expect(ids.filter((id, i) => ids.indexOf(id) !== i)).toEqual([]);
  const used = [...html.matchAll(/<use href="#([^"]+)"/g)].map((m) => m[1]);
  expect(used.length).toBeGreaterThan(0);
  expect(used.filter((id) => !ids.includes(id))).toEqual([]);
});

test('the page asks nothing of the network', () => {
  expect(page(shown).match(/(?:src|href|action)="(?!data:|#)[^"]*"|@import|url\((?!#)[^)]*\)/g)).toBeNull();
});

test('a report without a diagnosis has none of its sections', () => {
  expect(reportHtml(report)).not.toContain('Why it fired');
});
