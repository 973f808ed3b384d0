import { expect, it } from 'vitest';
import { Tally } from '../tally.js';
import { createYard } from '../yards/yard.js';
import { compare, recallLost } from './compare.js';
import { drawnEvidence } from './drawn.js';
import { alwaysFiring, countsOf } from './evidence.js';
import { calmOf, days, rows } from './rows.js';
import { simulatedRows } from './simulated.js';
import { spreadOf } from './spread.js';
import { cameraOf } from './watching.js';

/**
 * Weather put onto the calm clip of yards against the same weather drawn there by other rules (../yards). Families named
 * `judge...` are looked at once, after src/weather was changed; for building, PERCHMARK_FAMILY names another.
 */
const family = process.env.PERCHMARK_FAMILY ?? 'judge';
const yards = Number(process.env.PERCHMARK_YARDS ?? 40);
const SECONDS = 90;
/** The aims, for wind measured at the site. */
const MEDIAN_WITHIN = 1.5;
const QUARTERS_WITHIN = 3;

/** Every other owner outlines the plants. */
const isOutlined = (site: number) => site % 2 === 0;

interface Result {
  ratios: { site: number; ratios: number[] }[];
  saturated: number;
  quiet: number;
  refused: string[];
  lost: Tally;
}

it('weather simulated on a calm clip against the same weather drawn by other rules', {
  timeout: 7_200_000,
}, async () => {
  const results = new Map<string, Result>();
  const resultOf = (name: string): Result => {
    const known = results.get(name);
    if (known) return known;
    const fresh: Result = { ratios: [], saturated: 0, quiet: 0, refused: [], lost: new Tally() };
    results.set(name, fresh);
    return fresh;
  };
  for (let site = 0; site < yards; site++) {
    const began = Date.now();
    const yard = createYard(`${family}-${site}`, { seconds: SECONDS });
    const camera = cameraOf(yard);
    const counts = (evidence: Parameters<typeof countsOf>[2]) => countsOf(yard, camera, evidence);
    const most = await counts(alwaysFiring(yard, camera));
    const simulated = await simulatedRows(yard, camera, rows, isOutlined(site));
    for (const { name: dayName, change, anew } of days) {
      const day = { ...calmOf(yard), ...change };
      const drawn = await counts(await drawnEvidence(yard, day, camera));
      const add = (name: string, other: typeof drawn) => {
        const result = resultOf(name);
        const { ratios, saturated, quiet } = compare(other, drawn, most);
        result.ratios.push({ site, ratios });
        result.saturated += saturated;
        result.quiet += quiet;
        result.lost.add(site, recallLost(other, drawn));
      };
      for (const { name } of rows.filter((row) => row.day === dayName)) {
        const one = simulated[name]!;
        if ('refused' in one) resultOf(name).refused.push(`${yard.seed}: ${one.refused}`);
        else add(name, await counts(one.evidence));
      }
      if (!anew) continue;
      const another = await drawnEvidence(yard, { ...day, again: 'another' }, camera);
      add(`${dayName}, drawn anew`, await counts(another));
    }
    process.stderr.write(`yard ${site + 1} of ${yards}: ${((Date.now() - began) / 1000).toFixed(0)} s\n`);
  }
  say(results);
  const site = [...results]
    .filter(([name]) => name.endsWith('at the site'))
    .flatMap(([, result]) => result.ratios.flatMap(({ ratios }) => ratios));
  const { median, within } = spreadOf(site);
  expect.soft(Math.max(median, 1 / median), 'median, sway measured').toBeLessThan(MEDIAN_WITHIN);
  expect.soft(within(QUARTERS_WITHIN), 'settings within 3, sway measured').toBeGreaterThan(0.75);
});

function say(results: Map<string, Result>): void {
  console.log(
    `\nfamily ${family}, ${yards} yards\n\n| weather | false triggers simulated / drawn: median (quartiles) | within 1.5 | 2 | 3 | settings (saturated, quiet) | refused | recall lost |`,
  );
  console.log('|---|---|---|---|---|---|---|---|');
  const percent = (share: number) => `${(100 * share).toFixed(0)} %`;
  const line = (name: string, ratios: number[], rest: string) => {
    const { low, median, high, within, settings } = spreadOf(ratios);
    const text = settings === 0 ? '-' : `${median.toFixed(2)} (${low.toFixed(2)} to ${high.toFixed(2)})`;
    console.log(
      `| ${name} | ${text} | ${[1.5, 2, 3].map((f) => percent(within(f))).join(' | ')} | ${settings} ${rest}`,
    );
  };
  for (const [name, { ratios, saturated, quiet, refused, lost }] of results) {
    const all = ratios.flatMap((r) => r.ratios);
    line(
      name,
      all,
      `(${saturated}, ${quiet}) | ${refused.length} | ${lost.cases > 0 ? lost.text(2) : '-'} |`,
    );
  }
  const winds = [...results].filter(([name]) => name.startsWith('wind'));
  for (const how of new Set(winds.map(([name]) => name.split(', ')[1]!))) {
    const of = winds.filter(([name]) => name.endsWith(how)).flatMap(([, r]) => r.ratios);
    line(
      `all winds, ${how}`,
      of.flatMap((r) => r.ratios),
      '| | |',
    );
    for (const outlined of [true, false]) {
      const some = of.filter((r) => isOutlined(r.site) === outlined);
      line(
        `- foliage ${outlined ? 'outlined' : 'found'}`,
        some.flatMap((r) => r.ratios),
        '| | |',
      );
    }
  }
  for (const [name, { refused }] of results) {
    for (const why of refused) console.log(`refused: ${name}: ${why}`);
  }
}
