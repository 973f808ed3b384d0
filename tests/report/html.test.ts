import { parseHTML } from 'linkedom';
import { expect, test } from 'vitest';
import type { ClipShown, ReportGroup } from '../../src/report/data.js';
import { reportHtml } from '../../src/report/html.js';
import { clip, dials, group, hour, report, reportWith, unlabelled } from './example.js';

const hostile = `</style><script>x</script><img src=x onerror="a('b')">&`;
const picture = {
  address: 'data:image/jpeg;base64,AAAA',
  width: 320,
  height: 240,
  caption: hostile,
  hatched: true,
  blurred: false,
};

function textOf(page: string): string {
  return parseHTML(page).document.body.textContent.replace(/\s+/g, ' ');
}

test('nothing that was typed by hand becomes markup', () => {
  const labels = { ...clip.labels, visits: [{ start: 5, end: 9, name: hostile, caught: true }] };
  const named = { ...clip, name: hostile, labels } as ClipShown;
  const pictures = { ...clip.pictures, taken: { pictures: [picture], more: 0, people: 0 } };
  const page = reportHtml({
    ...reportWith({
      site: hostile,
      dials: dials.map((dial) => ({ ...dial, name: hostile })),
      about: { ...group.about, words: [hostile] } as ReportGroup['about'],
      clips: [{ ...named, pictures }],
    }),
    title: hostile,
    camera: hostile,
  });
  const { document } = parseHTML(page);
  expect(document.querySelectorAll('script')).toHaveLength(0);
  expect([...document.querySelectorAll('img')].map((img) => img.getAttribute('src'))).toEqual([
    picture.address,
  ]);
  expect(document.querySelectorAll('style')).toHaveLength(1);
  expect(document.querySelector('h1')?.textContent).toBe(hostile);
});

test('the page asks nothing of the network', () => {
  const outside = reportHtml(report).match(
    /(?:src|href|action)="(?!data:|#)[^"]*"|@import|url\((?!#)[^)]*\)/g,
  );
  expect(outside).toBeNull();
});

test('the page may fetch, run and send nothing, by its own policy', () => {
  const { document } = parseHTML(reportHtml(report));
  const [policy] = [...document.querySelectorAll('meta[http-equiv="Content-Security-Policy"]')];
  expect(policy?.getAttribute('content')).toBe(
    "default-src 'none'; img-src data:; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'",
  );
  // Before anything that it is to hold for.
  expect(policy?.previousElementSibling?.getAttribute('charset')).toBe('utf-8');
});

test('every id on the page is there once', () => {
  const ids = [
    ...reportHtml({ ...report, groups: [group, { ...group, clips: [clip, clip] }] }).matchAll(
      / id="([^"]+)"/g,
    ),
  ].map((m) => m[1]);
  expect(ids.filter((id, i) => ids.indexOf(id) !== i)).toEqual([]);
});

test('the same data gives the same bytes', () => {
  expect(reportHtml(report)).toBe(reportHtml(report));
});

test('a clip without labels shows its triggers and says why nothing else', () => {
  const page = textOf(
    reportHtml(reportWith({ about: { kind: 'replay', score: null }, clips: [unlabelled] })),
  );
  expect(page).toContain('It has no labels, so only the triggers are shown, 4 of them');
  expect(page).toContain('No clip has labels');
});

test('what unseen footage will bring is said to be too little to tell where it is', () => {
  if (group.about.kind !== 'tune') throw new Error('the example is tuned');
  const { result } = group.about;
  const unseen = { how: 'too little to tell', recall: null, falsePerHour: null, moreVisits: 12 } as const;
  const about = { ...group.about, result: { ...result, recommended: { ...result.recommended, unseen } } };
  const page = textOf(reportHtml(reportWith({ about })));
  expect(page).toContain('too little to tell');
  expect(page).toContain('Label about 12 more visits');
});

test('pictures left out are counted', () => {
  const pictures = { ...clip.pictures, nothing: { pictures: [picture], more: 7, people: 1 } };
  const page = textOf(reportHtml(reportWith({ clips: [{ ...clip, pictures }] })));
  expect(page).toContain('and 7 more. 1 picture left out: a person may be in view.');
});

test('an hour without pictures takes under 200 KB', () => {
  expect(reportHtml(reportWith({ clips: [hour()] })).length).toBeLessThan(200_000);
});

test('every link of the page leads to a place on it, and several sites are a table of links', () => {
  const sites = ['hedge', 'pond'].map((site) => ({ ...group, site }));
  for (const page of [reportHtml(report), reportHtml({ ...report, groups: sites })]) {
    const ids = new Set([...page.matchAll(/ id="([^"]+)"/g)].map((m) => m[1]));
    const links = [...page.matchAll(/<a href="#([^"]+)"/g)].map((m) => m[1]);
    expect(links.length).toBeGreaterThan(2);
    expect(links.filter((link) => !ids.has(link))).toEqual([]);
  }
  const { document } = parseHTML(reportHtml({ ...report, groups: sites }));
  expect([...document.querySelectorAll('.sites a')].map((a) => a.textContent)).toEqual([
    'hedge',
    clip.name,
    'pond',
    clip.name,
  ]);
});

test('shows what simulated wind moves, beside what it assumes', () => {
  const address = 'data:image/png;base64,AAAA';
  const { document } = parseHTML(reportHtml({ ...report, foliage: [{ clip: 'calm', address }] }));
  const figure = document.querySelector('#assumed')?.parentElement?.querySelector('figure');
  expect(figure?.querySelector('img')?.getAttribute('src')).toBe(address);
  expect(figure?.querySelector('figcaption')?.textContent).toContain('labels.json');
});
